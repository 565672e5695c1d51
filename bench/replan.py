"""How much of laying a wall anew does a replan take when half of it stands six millimetres off the plan?

Peer: laying the same wall from nothing, in the same run; CPU time, least of the rounds.
"""

import time
from dataclasses import replace

import numpy as np

from cordwright.wall.engine import lay_panel
from cordwright.wall.relaying import replan
from layout_walls import EDGE, JOINT, W11, stock_for

ROUNDS, LEAST, LARGEST = 3, 0.012, 0.060


def main() -> None:
    """Print the ratio."""
    face, stock = W11, stock_for(W11, "A")
    rules = {"joint_least": LEAST, "edge": EDGE}
    layout = lay_panel(face, stock, joint=JOINT, joint_largest=LARGEST, seed=1, **rules)
    anew, again = [], []
    for seed in range(ROUNDS):
        started = time.process_time()
        lay_panel(face, stock, joint=JOINT, joint_largest=LARGEST, seed=1, **rules)
        anew.append(time.process_time() - started)
        draws = np.random.Generator(np.random.PCG64(seed))
        half = sorted(layout.placements, key=lambda p: p.order)[: len(layout.placements) // 2]
        laid = [replace(p, x=p.x + draws.uniform(-0.006, 0.006), y=p.y + draws.uniform(-0.006, 0.006)) for p in half]
        names = {p.log.id for p in laid}
        left = [log for log in stock if log.id not in names]
        replan(layout, laid, left, joint_largest=LARGEST, seed=1, **rules)
        started = time.process_time()
        replan(layout, laid, left, joint_largest=LARGEST, seed=1, **rules)
        again.append(time.process_time() - started)
    print(f"replan {min(again):.2f} to {max(again):.2f} s, anew {min(anew):.2f} s: {min(again) / min(anew):.2f} of it")


if __name__ == "__main__":
    main()
