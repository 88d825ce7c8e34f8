"""The job of finding the bits and passes that make a target."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from profilestack.bits.bit import Bit
from profilestack.errors import InputError, nearest_word
from profilestack.errors import Problem as Mistake
from profilestack.files.shipped import ALL, read_bits, read_drawer
from profilestack.finding.adapting.adapt import adapted
from profilestack.finding.adapting.adaptation import Adaptation
from profilestack.finding.advice import Stretch, unreached_stretches
from profilestack.finding.needs import Needs, least_needed
from profilestack.finding.options import Option, find_options
from profilestack.finding.problem import Problem, problem_of
from profilestack.finding.purchases import Purchase, saving_passes, worth_buying
from profilestack.finding.request import RESOLUTIONS, FindRequest
from profilestack.geometry.path import Path
from profilestack.jobs.cut import CutReport
from profilestack.progress import SILENT, Progress
from profilestack.stack import FACE, Setup, Stack


@dataclass(frozen=True, slots=True, eq=False)
class FindResult:
    """What was found: options, what no bit reaches, what to buy, and the time it took [s].

    ``adaptation`` says how the target was fitted to the bits before, where that was asked for;
    ``request`` then has the fitted one. ``needs`` is what the target needs at least, where limits
    on passes or bits left no way. ``strange`` are the bits offered that a document must carry.
    """

    request: FindRequest
    options: tuple[Option, ...]
    unreached: tuple[Stretch, ...]
    buy: tuple[Purchase, ...]
    seconds: float
    stopped: bool
    adaptation: Adaptation | None = None
    needs: Needs | None = None
    strange: tuple[Bit, ...] = ()

    @property
    def chosen(self) -> int:
        """The first way that holds and that no caution stops, counted from 1; else 1."""
        good = [number for number, option in enumerate(self.options, 1) if self._holds(option)]
        return good[0] if good else 1

    @property
    def is_good(self) -> bool:
        """Whether all of the target is reached by an option that holds and may be cut."""
        good = any(self._holds(option) for option in self.options)
        return good and not self.unreached and not self.stopped

    def _holds(self, option: Option) -> bool:
        comparison = option.assembled.comparison
        return (
            comparison.leftover_worst <= self.request.leftover
            and comparison.overcut_worst <= self.request.overcut
            and all(caution.severity != "stop" for caution in option.assembled.cautions)
        )


@dataclass(frozen=True, slots=True)
class FindWishes:
    """What the user says to the finder; None, or nothing, is what the document or custom says.

    ``libraries`` are names of bit files, see :func:`bits_for`; ``bits`` are offered instead of
    any library's where given. ``setups`` are names of the document's; lengths are in mm.
    """

    libraries: tuple[str, ...] = ()
    bits: tuple[Bit, ...] | None = None
    leftover: float | None = None
    overcut: float | None = None
    resolution: float | None = None
    setups: tuple[str, ...] = ()
    most_passes: int | None = None
    most_bits: int | None = None
    seconds: float | None = None
    adapt: float | None = None


def request_for(stack: Stack, wishes: FindWishes) -> FindRequest:
    """What the finder is asked for a document: the one way in which every door asks.

    Raises:
        FileError: a library that cannot be read.
        InputError: everything that is impossible, by the names of the wishes.
    """
    tolerance = stack.tolerance
    return FindRequest(
        stack,
        bits_for(stack, wishes.libraries) if wishes.bits is None else wishes.bits,
        tolerance.leftover if wishes.leftover is None else wishes.leftover,
        tolerance.overcut if wishes.overcut is None else wishes.overcut,
        RESOLUTIONS[stack.units] if wishes.resolution is None else wishes.resolution,
        _setups(wishes.setups, stack),
        wishes.most_passes,
        wishes.most_bits,
        wishes.seconds,
        wishes.adapt,
    )


def _setups(names: Sequence[str], stack: Stack) -> tuple[Setup, ...]:
    known = {setup.name: setup for setup in (FACE, *stack.setups)}
    unknown = [name for name in names if name not in known]
    if unknown:
        raise InputError(
            Mistake("setup", f"{name!r} is no setup of the document",
                    f"one of {', '.join(known)}", nearest_word(name, known))
            for name in unknown
        )  # fmt: skip
    return tuple(known[name] for name in dict.fromkeys(names)) or (FACE,)


def bits_for(stack: Stack, libraries: Sequence[str]) -> tuple[Bit, ...]:
    """The bits to find with: those of the given libraries alone, else the document's and drawer's.

    Raises:
        FileError: a library that cannot be read.
    """
    found: dict[str, Bit] = {}
    if libraries:
        for name in libraries:
            for bit in read_bits(name):
                found.setdefault(bit.id, bit)
    else:
        for bit in (*stack.bits, *read_drawer()):
            found.setdefault(bit.id, bit)
    if not found:
        where = ", ".join(libraries) or "the drawer"
        raise InputError(Mistake("bits", f"{where} is empty", "at least one bit"))
    return tuple(found.values())


def find(request: FindRequest, progress: Progress = SILENT) -> FindResult:
    """Find options, say what stays and what would help; fit the target first if that is asked.

    Raises:
        InputError: a target that does not fit its blank, or that no passes can make.
        Cancelled: the progress was stopped before there was anything to look among.
    """
    adaptation = None
    if request.adapt is not None:
        adaptation = adapted(request.stack, request.bits, request.adapt)
        request = replace(request, stack=adaptation.stack)
    problem = problem_of(request, progress=progress)
    options = find_options(problem, progress)
    progress.report(0.9, "looking at what stays")
    stays = unreached_stretches(problem, progress)
    buy: tuple[Purchase, ...] = ()
    if progress.left > 0.0:
        buy = _purchases(problem, options, progress) if request.seconds or stays else ()
    needs = None
    if not options and (request.most_passes or request.most_bits) and progress.left > 0.0:
        needs = least_needed(problem, progress)
    stopped = progress.is_stopped()
    strange = strange_bits(request.bits, request.stack)
    return FindResult(
        request, options, stays, buy, progress.spent, stopped, adaptation, needs, strange
    )


def _purchases(
    problem: Problem, options: tuple[Option, ...], progress: Progress
) -> tuple[Purchase, ...]:
    """What to buy: for what stays first, else to get by with fewer passes."""
    library = read_bits(ALL).bits
    if reaching := worth_buying(problem, library, progress):
        return reaching
    fewest = [int(each.cost) for each in options if each.objective == "passes" and each.proved]
    return saving_passes(problem, library, fewest[0], progress) if fewest else ()


def drawn_before(result: FindResult) -> Path | None:
    """The target's path as it was before it was fitted; None where nothing was changed."""
    adaptation = result.adaptation
    return adaptation.drawn if adaptation is not None and adaptation.changes else None


def report_of(option: Option) -> CutReport:
    """An option as a cut that can be drawn and printed."""
    assembled = option.assembled
    return CutReport(assembled.cut, assembled.comparison, assembled.cautions)


def stack_of(option: Option, strange: Sequence[Bit], asked: Stack) -> Stack:
    """An option as a document: the asked one with the option's passes, target and tolerances.

    Nothing else of the asked document changes. ``strange`` bits, which nobody else knows, are
    carried in it where they are used, so that others who open it have them too; a bit of the same
    id that the document carried gives way.
    """
    found = option.assembled.stack
    used = {single.bit for single in found.passes}
    carried = {bit.id: bit for bit in asked.bits}
    carried |= {bit.id: bit for bit in strange if bit.id in used}
    return replace(
        asked,
        passes=found.passes,
        target=found.target,
        tolerance=found.tolerance,
        bits=tuple(carried.values()),
    )


def strange_bits(bits: Sequence[Bit], asked: Stack) -> tuple[Bit, ...]:
    """Bits that a document must carry: neither the drawer nor the shipped library has them.

    Where the document carries another bit of that id, the drawer's must be carried as well.
    """
    own = {bit.id for bit in asked.bits}
    drawer = read_drawer().bits
    unknown = [bit for bit in bits if bit.id in own or bit not in drawer]
    shipped = read_bits(ALL).bits if any(bit.id not in own for bit in unknown) else ()
    return tuple(bit for bit in unknown if bit.id in own or bit not in shipped)
