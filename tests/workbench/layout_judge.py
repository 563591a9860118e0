"""Whether a layout is right, judged without any code of the project that makes layouts.

Exact whole numbers. Each function returns what is wrong in words; an empty list
means that nothing is.
"""

from collections import Counter


def wrong_on_sheet(order, pattern):
    """Return what is wrong on one sheet: outside, overlapping, turned where it must not be."""
    bed = order.beds[pattern.bed]
    found, spans = [], []
    for box in pattern.placed:
        kind = order.boxes[box.kind]
        is_square = kind.width == kind.height
        if box.quarters % 2 and not (kind.may_turn or bed.turns_all or is_square):
            found.append(f"{box} is turned")
        wide, high = kind.width, kind.height
        if box.quarters % 2:
            wide, high = high, wide
        if box.x < 0 or box.y < 0 or box.x + wide > bed.width or box.y + high > bed.height:
            found.append(f"{box} leaves the sheet")
        spans.append((box.x, box.y, box.x + wide, box.y + high, box))
    spans.sort()
    for i, (_, bottom, right, top, box) in enumerate(spans):
        for other in spans[i + 1 :]:
            if other[0] >= right:
                break
            if other[1] < top and bottom < other[3]:
                found.append(f"{box} and {other[4]} overlap")
    return found


def wrong_in_plan(order, plan):
    """Return what is wrong in a whole plan: every box placed exactly once, sheets that there are."""
    found = [fault for pattern, _ in plan.runs for fault in wrong_on_sheet(order, pattern)]
    placed, used = Counter(), Counter()
    for pattern, times in plan.runs:
        if times < 1:
            found.append(f"a pattern is cut {times} times")
        used[pattern.bed] += times
        for box in pattern.placed:
            placed[box.kind] += times
    for kind, count in enumerate(order.counts):
        if placed[kind] != count:
            found.append(f"kind {kind}: {placed[kind]} of {count}")
    for number, bed in enumerate(order.beds):
        if bed.at_most is not None and used[number] > bed.at_most:
            found.append(f"bed {number}: {used[number]} of {bed.at_most}")
    return found
