"""What does laying the whole wall out of the owner's stock give? Plain values, read without the engine."""

from dataclasses import dataclass, field

from cordwright.wall.layout import Log, PanelLayout


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutStudy:
    """All panels laid, the stock they were laid from, and the ids left over.

    `seconds`: by panel, how long it took, as told by the clock the caller hands in; empty without one.
    """

    panels: tuple[PanelLayout, ...]
    stock: tuple[Log, ...]
    unused: tuple[str, ...]
    seconds: dict[str, float] = field(default_factory=dict)

    @property
    def joint(self) -> float:
        """The even joint that the stock asks for [m]; the widest where panels differ."""
        return max((p.report.joint_nominal for p in self.panels), default=0.0)
