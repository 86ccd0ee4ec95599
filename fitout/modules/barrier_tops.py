"""What holds the barrier's posts at their upper ends: known points high on walls or pillars.

A post that is held at its foot alone is a lever on two bolts; held at both ends it is a beam.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from fitout.model.module import Fixing
from fitout.modules.joinery import FLOOR_BOLT, Draft

TOP_REACH = 150.0
"""How far from a post a known point may lie, across and along, for a bracket to reach it, mm."""

UPPER_PART = 0.7
"""A point counts as at the post's top from this share of its height up."""


def hold_tops(
    draft: Draft, posts: Sequence[tuple[float, float]], heights: tuple[float, float]
) -> None:
    """Bolt each post, by a bracket, to the known points near its upper end.

    `posts` are the posts' middles (x, y), `heights` those of their two ends.
    """
    articles = draft.setting.catalogue.articles
    low = heights[0] + UPPER_PART * (heights[1] - heights[0])
    for anchor in draft.setting.bay.upper_anchors:
        near = min(posts, key=lambda post: math.dist(post, (anchor.x, anchor.y)))
        if math.dist(near, (anchor.x, anchor.y)) > TOP_REACH:
            continue
        if not low <= anchor.z <= heights[1] + TOP_REACH / 2.0:
            continue
        bolt = f"bolt {anchor.thread} x 40"
        article = bolt if bolt in articles else FLOOR_BOLT
        point = (anchor.x, anchor.y, anchor.z)
        draft.tops.append(
            Fixing(module=draft.name, point=point, article=article, anchor=anchor.name)
        )
        draft.buy("frame bracket", 1, "post tops to the vehicle")
        draft.buy(article, 1, "post tops to the vehicle")
        draft.buy("large washer M8", 1, "post tops to the vehicle")
