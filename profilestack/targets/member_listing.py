"""What the table of members says, as text for the documentation."""

from __future__ import annotations

from profilestack.targets.member import LENGTHS
from profilestack.targets.member_shapes import MEMBERS, MemberShape


def member_listing() -> str:
    """Every member in Markdown: picture, what it is, its keys, its variants, its source."""
    return "\n".join(_entry(shape) for shape in MEMBERS.values())


def _entry(shape: MemberShape) -> str:
    required = ", ".join(f"`{key}`" for key in LENGTHS if key in shape.required)
    optional = ", ".join(f"`{key}`" for key in LENGTHS if key in shape.optional)
    variants = ", ".join(f"`{variant}`" for variant in shape.variants)
    keys = f"needs {required}" + (f"; may have {optional}" if optional else "")
    lines = [
        f"### {shape.word}",
        "",
        f"![{shape.word}](members/{shape.word}.svg)",
        "",
        shape.about,
        "",
        f"- keys: {keys}",
        *([f"- variants: {variants}"] if variants else []),
        f"- source: {shape.source}",
        "",
    ]
    return "\n".join(lines)
