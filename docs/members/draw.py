"""Draw the pictures of the member page, and list the members on it, from the table of members.

Run: python docs/members/draw.py
"""

from __future__ import annotations

from pathlib import Path

from profilestack.drawing.member_picture import member_pictures
from profilestack.targets.member_listing import member_listing

MARK = "<!-- what follows is made by docs/members/draw.py -->\n"

if __name__ == "__main__":
    here = Path(__file__).parent
    for name, data in member_pictures().items():
        (here / name).write_bytes(data)
    page = here.parent / "members.md"
    written, _, _ = page.read_text(encoding="utf-8").partition(MARK)
    page.write_text(f"{written}{MARK}\n{member_listing()}", encoding="utf-8")
