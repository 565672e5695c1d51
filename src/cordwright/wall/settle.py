"""How do the logs of a full region come to rest on one another, as a mason lays them?"""

from cordwright.wall.packing import TOLERANCE, Packing, ease, fatten, fill_voids

PULLS = (2e-5, 5e-6)
"""Weight of each log as overlap it causes on what it rests on [m]: small, so that joints give by hundredths of a mm."""


def settle(packing: Packing) -> bool:
    """Let logs sink onto those below, then make all joints hold again; False leaves everything where it was."""
    kept = packing.keep()
    for pull in PULLS:
        ease(packing, 1200, gravity=pull)
    if ease(packing, 4000)[0] > TOLERANCE:
        packing.put_back(kept)
        return False
    return True


def top_up(packing: Packing) -> None:
    """Put larger spares where logs stand loose, and spare logs into gaps."""
    fatten(packing)
    fill_voids(packing)
