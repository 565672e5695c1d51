"""The wall goes otherwise than planned: how is the rest laid around what stands?"""

from collections.abc import Collection, Sequence

from cordwright.wall.engine import EffortName, lay_panel
from cordwright.wall.layout import Cancelled, Log, PanelLayout, Placement, Progress, never, quiet


def replan(
    layout: PanelLayout,
    laid: Sequence[Placement],
    stock_left: Sequence[Log],
    *,
    joint_least: float,
    joint_largest: float,
    edge: float,
    seed: int,
    effort: EffortName = "normal",
    forbidden: Collection[str] = (),
    progress: Progress = quiet,
    cancelled: Cancelled = never,
) -> PanelLayout:
    """Lay the rest of a panel anew around the logs as they were really laid, which stay where they are.

    Args:
        layout: the panel as planned; its joint is kept.
        laid: the logs laid, where they are.
        stock_left: logs that may be used for the rest.
        joint_least: narrowest joint anywhere [m].
        joint_largest: widest even joint [m].
        edge: joint at edges [m].
        seed: fixes every choice.
        effort: "draft" for a look, "normal" for the wall.
        forbidden: ids of logs that must not be used.
        progress: told the share done and what is done.
        cancelled: asked often; the laying stops when it says so.

    Raises:
        InputError: a size or joint that no wall can have, or one id twice.
        StoppedError: `cancelled` said so.
    """
    return lay_panel(
        layout.face, stock_left, joint=layout.report.joint_nominal, joint_least=joint_least,
        joint_largest=max(joint_largest, layout.report.joint_nominal), edge=edge, seed=seed, effort=effort, fixed=laid,
        forbidden=forbidden, progress=progress, cancelled=cancelled,
    )  # fmt: skip
