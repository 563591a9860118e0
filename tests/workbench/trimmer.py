"""A trimmer made of nothing but rectangles: cuts are followed one by one, as a person would.

Independent of the code that makes the cuts: it knows their nouns only.
"""

from collections import Counter


class CutWrong(Exception):
    """A cut that a trimmer cannot make."""


def pieces(cuts, x, y, wide, high, last=None, stage=0):
    """Yield every piece left in the end: (leaf, x, y, wide, high, way of the last cut, stage)."""
    if not hasattr(cuts, "at"):
        yield cuts, x, y, wide, high, last, stage
        return
    way = cuts.way.value
    length = {"upright": wide, "level": high}[way]
    if not 0 < cuts.at < length:
        raise CutWrong(f"at {cuts.at} in a piece of {length}")
    stage += way != last
    if way == "upright":
        yield from pieces(cuts.near, x, y, cuts.at, high, way, stage)
        yield from pieces(cuts.far, x + cuts.at, y, wide - cuts.at, high, way, stage)
    else:
        yield from pieces(cuts.near, x, y, wide, cuts.at, way, stage)
        yield from pieces(cuts.far, x, y + cuts.at, wide, high - cuts.at, way, stage)


def wrong_when_cut(order, pattern, stages=None):
    """Return what is wrong with the cuts of a pattern; with *stages*, trims come on top."""
    bed = order.beds[pattern.bed]
    if pattern.cuts is None:
        return ["no cuts"]
    found, boxes, area = [], Counter(), 0
    for leaf, x, y, wide, high, last, stage in pieces(pattern.cuts, 0, 0, bed.width, bed.height):
        area += wide * high
        if stages is not None and stage > stages:
            found.append(f"stage {stage}")
        if leaf.kind is None:
            continue
        box = order.boxes[leaf.kind]
        size = (box.height, box.width) if leaf.quarters % 2 else (box.width, box.height)
        if size[0] > wide or size[1] > high:
            found.append(f"{leaf} is larger than its piece of {wide} x {high}")
        trims = [size[0] < wide and "upright", size[1] < high and "level"]
        across = [way for way in trims if way and way != last]
        if stages is not None and stage + len(across) > stages + 1:
            found.append(f"{leaf} needs more than a trim")
        boxes[(leaf.kind, x, y, leaf.quarters)] += 1
    if area != bed.width * bed.height:
        found.append("the pieces are not the sheet")
    if boxes != Counter(tuple(box) for box in pattern.placed):
        found.append("the pieces are not the boxes placed")
    return found
