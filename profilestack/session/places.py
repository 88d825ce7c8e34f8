"""Where the app keeps what is the user's: settings, journals."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Places:
    """Folders of one user; each is made when something is first written there."""

    config: Path
    state: Path

    @property
    def settings(self) -> Path:
        """The file of the settings."""
        return self.config / "settings.json"

    @property
    def layout(self) -> Path:
        """The file of the window's place and its panels'."""
        return self.config / "window.ini"

    @property
    def journals(self) -> Path:
        """The folder of the journals of open documents."""
        return self.state / "journals"


def user_places() -> Places:
    """The places that the system has for this user."""
    from platformdirs import user_config_path, user_state_path

    return Places(
        user_config_path("profilestack", appauthor=False),
        user_state_path("profilestack", appauthor=False),
    )
