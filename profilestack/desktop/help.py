"""Help on the part of the window that has the focus: a short text for each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QDialogButtonBox,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

if TYPE_CHECKING:
    from profilestack.desktop.window import Window

BENCH = "bench"

TOPICS: dict[str, tuple[str, str]] = {
    BENCH: (
        "The bench",
        """The **section** lies in the middle: the blank, the wanted profile as a line, and what the
passes leave, filled as wood. What stands proud is hatched, what was gouged is cross-hatched.

Over it, the **light strip** shows the face as a raking lamp would: a ridge is a line of light.
Under it, the **leftover strip** shows how far the cut face lies from the wanted profile, with the
tolerance as a band. All three share one x.

- Drag a pass to move it; **Shift** holds one direction, **Alt** lets go of snaps.
- The **arrow keys** move the chosen passes by a step; Shift ten times as far, Ctrl a tenth.
- The wheel makes it larger at the pointer; **Ctrl+0** shows the whole blank.
- **Escape** leaves a drag as if it had not been.""",
    ),
    "drawer": (
        "Bits",
        """The bits at hand as silhouettes, tip down, all to one scale. What can reach the wanted
profile somewhere is inked; what is pale cannot, and its tooltip says why.

Filter by shape, size or words. Drag a bit onto the section: the pass stays where you
let it go, unless something near holds it. **Enter**, or a drop between two passes of the stack,
puts it over the middle of the wanted profile, as deep as it may go. New and changed bits go into
your own drawer.""",
    ),
    "target": (
        "Wanted profile",
        """What the molding should look like. Build it from classical **members** with their heights
and projections, type **lines and arcs**, or read a drawing (DXF, SVG), a table of points or a
picture. A file dropped on the window is read as well.

A picture's scale may be given by **two points**: click on both ends of a length that you know, or
put marks with **Enter** and move them with the arrows, and type the length. Of a drawing that falls
into several lines, click on the one that is meant, or go there and press **Enter**.

A wanted profile runs left to right with the wood on its right hand, so the waste lies above it.""",
    ),
    "find": (
        "Ways to cut it",
        """Looks for the bits and passes that make the wanted profile: the fewest passes, the fewest
bits, the shortest time, the least leftover. It can be stopped at any time; the best way so far
stays.

Point at a way to see it on the bench; **choose** it to put it into the stack. Places that no bit
reaches are listed with the reason, and so are bits worth buying.""",
    ),
    "stack": (
        "Stack",
        """The passes in cutting order, the first at the top: bit, setup, **edge to bit centre**
(offset), **below face** (depth), what each removes, and its cautions.

Change the order by dragging or with **Ctrl+Shift+Up** and **Down**. A pass that is switched off
stays in the list and is not cut. The slider shows the blank after so many passes.""",
    ),
    "piece": (
        "Piece",
        """The blank, how it becomes a part (straight, along a radius, turned), how it lies while it
is cut, and how much may stand proud (leftover) or be missing (overcut).

Lengths may be typed with their unit: 19 mm, 3/4 in, 2 ft 3 in, 19 mm + 1/2 in.""",
    ),
    "machine": (
        "Machine",
        """How the stack is cut on your machine. **Plan**: in which order and in how many depths,
how fast, in how many minutes, and why; choosing a cut chooses its pass. **Methods**: the stack
beside 3D ball-nose finishing and a cutter made to order. **Spread**: what leftover and overcut
come to with the shop's usual errors. **Test**: type what you measured on a test cut, and it says
which settings explain it. **Shop**: the figures all this rests on, with where each comes from; what
is no measured figure of your own is an assumption.

All of it is worked out anew when an edit rests.""",
    ),
}


def topic_of(widget: QWidget | None) -> str:
    """The part of the window that a widget belongs to; the bench where it is none of the panels."""
    while widget is not None:
        if widget.objectName() in TOPICS:
            return widget.objectName()
        widget = widget.parentWidget()
    return BENCH


class HelpDialog(QDialog):
    """A text that stays beside the window while one works."""

    def __init__(self, parent: QWidget, topic: str) -> None:
        super().__init__(parent)
        title, text = TOPICS[topic]
        self.topic = topic
        self.setWindowTitle(f"Help: {title}")
        page = QTextBrowser()
        page.setAccessibleName(f"Help on {title}")
        page.setMarkdown(f"## {title}\n\n{text}")
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.close)
        box = QVBoxLayout(self)
        box.addWidget(page)
        box.addWidget(buttons)
        em = self.fontMetrics().averageCharWidth()
        self.resize(72 * em, 26 * self.fontMetrics().lineSpacing())


def show_help(window: Window) -> None:
    """Help on the part that has the focus; the window can be used meanwhile."""
    topic = topic_of(QApplication.focusWidget())
    if window.help is not None:
        window.help.close()
        window.help.deleteLater()
    window.help = HelpDialog(window, topic)
    window.help.show()
