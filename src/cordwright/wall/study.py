"""How is the whole wall laid out of the owner's stock and wishes, around what stands already, and what is left?"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from cordwright.base import InputError, Problem
from cordwright.plan.results import Plan
from cordwright.timber.inputs import TimberInput
from cordwright.timber.results import Timber
from cordwright.wall.advice import band_notes, stock_notes
from cordwright.wall.dealing import allot, net_area, wall_joint, widest_place
from cordwright.wall.engine import EffortName, lay_panel
from cordwright.wall.faces import faces_of, logs_of
from cordwright.wall.inputs import Joints, WallInput, Wishes
from cordwright.wall.laid_study import SIZE_CLASSES, LayoutStudy, Note
from cordwright.wall.layout import Cancelled, Face, Log, PanelLayout, Placement, Progress, never, quiet
from cordwright.wall.relaying import replan
from cordwright.wall.shortage import Supply, shortage_of, widened
from cordwright.wall.splitting import cleave
from cordwright.wall.swapping import swap
from cordwright.wall.taste import PLAIN, taste_of
from cordwright.wall.wishes import as_laid, close_pairs, locked, stock_as_laid

Clock = Callable[[], float]


def lay_study(
    plan: Plan,
    timber: Timber,
    stated: TimberInput,
    wall: WallInput,
    *,
    seed: int | None = None,
    only: str = "",
    mortar_depth: float | None = None,
    size_class: float = SIZE_CLASSES["metric"],
    progress: Progress = quiet,
    cancelled: Cancelled = never,
    clock: Clock | None = None,
) -> LayoutStudy:
    """Lay every panel, or only one from its own share of the stock, as the owner wishes.

    Expected culls and the spares kept back are left out evenly over the sizes: nobody knows yet which logs they are.
    Locked logs stand from the start; then logs change places as asked; last the rest gives way to what is really laid.

    Args:
        plan: the plan worked out.
        timber: the wood worked out.
        stated: shares of culls and spares.
        wall: joints and wishes as stated.
        seed: fixes every choice; None takes the one wished.
        only: a panel's name; empty for all.
        mortar_depth: depth of mortar in a joint, all beads together [m].
        size_class: breadth of the classes of diameter in which missing logs are told [m].
        progress: told the share done and the panel at hand.
        cancelled: asked often; the laying stops when it says so.
        clock: seconds of a running clock, to time each panel; stages have none of their own.

    Raises:
        InputError: a size or joint that no wall can have.
        StoppedError: `cancelled` said so.
    """
    wishes, faces = wall.wishes, faces_of(plan)
    stock = _cleaved(logs_of(timber.stock), wishes, faces, wall.joints)
    kept = (1 - (stated.cull_share or 0.0)) * (1 - (stated.spare_share or 0.0))
    usable = tuple(log for log in keep_share(stock, kept) if log.id not in wishes.forbidden)
    panels, seconds = _timed(
        laid_panels(
            faces, usable, wall.joints, wishes.seed if seed is None else seed, only=only, forbidden=wishes.forbidden,
            fixed=locked(wishes, stock, faces), wishes=wishes, progress=progress, cancelled=cancelled,
        ),
        clock,
    )  # fmt: skip
    panels, refusals = _swapped(panels, wishes, stock, wall.joints, whole=not only)
    as_measured = stock_as_laid(stock, wishes.laid)
    panels, notes = around_laid(panels, wishes, as_measured, wall.joints, cancelled=cancelled)
    study = replace(_study_of(panels, as_measured, wishes), seconds=seconds, notes=notes, refusals=refusals)
    supply = _supply(stated, len(stock), kept)
    return _with_advice(study, faces, usable, wall, supply=supply, mortar_depth=mortar_depth, size_class=size_class)


def _cleaved(stock: tuple[Log, ...], wishes: Wishes, faces: Sequence[Face], joints: Joints) -> tuple[Log, ...]:
    """The stock with the rounds cleaved that the owner wants cleaved; a log locked or laid stays whole."""
    if wishes.splitting is None:
        return stock
    whole = {*(lock.log for lock in wishes.locks), *(row.log for row in wishes.laid)}
    rule = replace(wishes.splitting, logs=tuple(i for i in wishes.splitting.logs if i not in whole))
    cleft = cleave([log for log in stock if log.id not in whole], rule, widest_place(faces, joints.edge))
    return (*cleft, *(log for log in stock if log.id in whole))


def _with_advice(
    study: LayoutStudy,
    faces: Sequence[Face],
    usable: Sequence[Log],
    wall: WallInput,
    *,
    supply: Supply,
    mortar_depth: float | None,
    size_class: float,
) -> LayoutStudy:
    """Add what a mason would say of this stock, and what it lacks to close the wall."""
    every = _with_locked(usable, wall.wishes, study.stock)
    return replace(
        study,
        notes=(*study.notes, *stock_notes(usable), *band_notes(faces, usable, wall.joints)),
        shortage=shortage_of(faces, every, wall.joints, supply, mortar_depth=mortar_depth, size_class=size_class),
        widened=widened(faces, usable, wall.joints, study.joint, mortar_depth=mortar_depth),
    )


def _study_of(panels: Sequence[PanelLayout], stock: tuple[Log, ...], wishes: Wishes) -> LayoutStudy:
    placed = {p.log.id for panel in panels for p in panel.placements}
    decided = {*(lock.log for lock in wishes.locks), *(row.log for row in wishes.laid)}
    return LayoutStudy(
        panels=tuple(panels),
        stock=stock,
        unused=tuple(log.id for log in stock if log.id not in placed),
        settled=tuple(sorted(decided & placed)),
    )


def _timed(laid: Iterator[PanelLayout], clock: Clock | None) -> tuple[list[PanelLayout], dict[str, float]]:
    panels: list[PanelLayout] = []
    seconds: dict[str, float] = {}
    started = clock() if clock else 0.0
    for panel in laid:
        panels.append(panel)
        if clock:
            seconds[panel.face.name] = clock() - started
            started = clock()
    return panels, seconds


def _with_locked(usable: Sequence[Log], wishes: Wishes, stock: Sequence[Log]) -> tuple[Log, ...]:
    """Logs that may be used, and those locked among the culls and spares."""
    known = {log.id for log in usable}
    held = {lock.log for lock in wishes.locks} - known
    return (*usable, *(log for log in stock if log.id in held))


def _supply(stated: TimberInput, logs: int, kept: float) -> Supply:
    """Count by stems where there are only stems, by stacked volume where there are only piles, else by neither."""
    return Supply(
        logs=max(1, logs),
        stems=0 if stated.piles else sum(stem.count for stem in stated.stems),
        stacked=0.0 if stated.stems else sum(pile.stacked_volume for pile in stated.piles),
        kept=kept,
    )


def _swapped(
    panels: Sequence[PanelLayout], wishes: Wishes, stock: Sequence[Log], joints: Joints, *, whole: bool
) -> tuple[list[PanelLayout], tuple[Problem, ...]]:
    """Let logs change places as asked, one pair after another; a pair that cannot is told and left."""
    refusals: list[Problem] = []
    locks = tuple(lock.log for lock in wishes.locks)
    done = tuple(panels)
    for i, pair in enumerate(wishes.swaps):
        here = {p.log.id for panel in done for p in panel.placements}
        if not whole and not {pair.log, pair.other} & here:
            continue
        try:
            done = swap(
                done, pair.log, pair.other, stock, joint_least=joints.least, edge=joints.edge, locked=locks
            )  # fmt: skip
        except InputError as refusal:
            hint = "swap it with a log nearer in size, or take the swap away"
            refusals.append(Problem(field=f"layout.swaps[{i}]", message=str(refusal), hint=hint))
    return list(done), tuple(refusals)


def around_laid(
    panels: Sequence[PanelLayout],
    wishes: Wishes,
    stock: Sequence[Log],
    joints: Joints,
    *,
    cancelled: Cancelled,
) -> tuple[list[PanelLayout], tuple[Note, ...]]:
    """Let the rest of each panel give way to what is laid; panels whose logs were laid elsewhere mend their gaps.

    Args:
        panels: as planned.
        wishes: of the owner, with the logs laid.
        stock: all logs, with the diameters as laid.
        joints: joint widths as stated.
        cancelled: asked before each panel; the laying stops when it says so.

    Raises:
        StoppedError: `cancelled` said so.
    """
    if not wishes.laid:
        return list(panels), ()
    by_id = {log.id: log for log in stock}
    gone = {row.log for row in wishes.laid}
    locks = tuple(lock.log for lock in wishes.locks)
    done: list[PanelLayout] = []
    notes: list[Note] = []
    for panel in panels:
        laid = as_laid(panel.face, wishes.laid, stock, joint=panel.report.joint_nominal, edge=joints.edge)
        notes += close_pairs(laid, joints.least)
        share = {*(p.log.id for p in panel.placements), *panel.unused}
        if not laid and not share & gone:
            done.append(panel)
            continue
        left = [by_id[i] for i in sorted(share - gone) if i in by_id]
        again = replan(
            panel, laid, left, joint_least=joints.least, joint_largest=joints.largest, edge=joints.edge,
            seed=wishes.seed, locked=locks, cancelled=cancelled,
        )  # fmt: skip
        done.append(again)
    return done, tuple(notes)


def laid_panels(
    faces: Sequence[Face],
    stock: Sequence[Log],
    joints: Joints,
    seed: int,
    *,
    only: str = "",
    effort: EffortName = "normal",
    forbidden: Collection[str] = (),
    fixed: Mapping[str, Sequence[Placement]] | None = None,
    wishes: Wishes | None = None,
    progress: Progress = quiet,
    cancelled: Cancelled = never,
) -> Iterator[PanelLayout]:
    """Lay panel after panel from one stock with one even joint, the narrowest from nominal up that closes them all.

    Args:
        faces: the panels.
        stock: all logs of the building, culls and spares left out.
        joints: joint widths as stated.
        seed: fixes every choice.
        only: a panel's name, laid from its own share of the stock; empty for all.
        effort: "draft" for a look, "normal" for the wall.
        forbidden: ids of logs that must not be used.
        fixed: by panel, logs locked to a place; they belong to their panel and no other.
        wishes: where large and small logs are wanted.
        progress: told the share done and what is done.
        cancelled: asked often; the laying stops when it says so.

    Raises:
        InputError: a size or joint that no wall can have, or one id twice.
        StoppedError: `cancelled` said so.
    """
    locks = fixed or {}
    held = [p.log for placements in locks.values() for p in placements]
    banned = {*forbidden, *(log.id for log in held)}
    usable = [log for log in stock if log.id not in banned]
    joint = wall_joint(faces, [*usable, *held], joints)
    dealt = allot(usable, faces, joint=joint, edge=joints.edge)
    wanted = [face for face in faces if only in ("", face.name)]
    total = sum(net_area(face) for face in wanted)
    done = 0.0
    for face in wanted:
        share = net_area(face) / total
        yield lay_panel(
            face, dealt[face.name], joint=joint, joint_least=joints.least, joint_largest=joints.largest,
            edge=joints.edge, seed=seed, effort=effort, fixed=locks.get(face.name, ()), cancelled=cancelled,
            taste=taste_of(wishes, face) if wishes else PLAIN,
            progress=_span_of(progress, done, share),
        )  # fmt: skip
        done += share


def _span_of(progress: Progress, start: float, share: float) -> Progress:
    """Tell the progress of one panel as its share of all."""
    return lambda done, what: progress(start + share * done, what)


def keep_share(stock: tuple[Log, ...], share: float) -> tuple[Log, ...]:
    """Keep a share of the logs, evenly over their sizes.

    Args:
        stock: log ends.
        share: kept [1].
    """
    ordered = sorted(stock, key=lambda log: (log.diameter, log.id))
    kept = [log for n, log in enumerate(ordered) if int((n + 1) * share) > int(n * share)]
    return tuple(kept)
