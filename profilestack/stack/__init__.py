"""The document: blank, run, target, setups, ordered passes, carried bits."""

from profilestack.stack.blank import Blank, OutlineStock, Rectangle, Round
from profilestack.stack.run import CurvedRun, Run, StraightRun, TurnedRun
from profilestack.stack.stack import FACE, Pass, Setup, Stack, Tolerance
from profilestack.stack.target import FileTarget, MemberTarget, PathTarget, Target

__all__ = [
    "FACE",
    "Blank",
    "CurvedRun",
    "FileTarget",
    "MemberTarget",
    "OutlineStock",
    "Pass",
    "PathTarget",
    "Rectangle",
    "Round",
    "Run",
    "Setup",
    "Stack",
    "StraightRun",
    "Target",
    "Tolerance",
    "TurnedRun",
]
