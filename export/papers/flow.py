"""Blocks of words, tables and boxes that flow down upright pages, one column to a page."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ...model.units import Mm
from ..drawing.curves import Line, Point, rectangle
from ..drawing.lettering import RISE, Face, block_depth
from ..drawing.paper import Box, Paper
from ..drawing.pens import TABLE, WIDE
from ..drawing.primitives import Item, Stroke, Text
from ..drawing.sheet import placed
from ..drawing.table import PAD, Column, paragraph, table
from ..drawing.title_block import HEIGHT

MARGIN: Mm = 7.0
"""Distance from the frame: the centring marks reach 5 mm inside it."""
GAP: Mm = 2.0
"""Distance of one block from the next."""
WIDTH: Mm = 166.0
"""Width of the column of blocks: what both of the upright papers have room for."""


def room(paper: Paper) -> Box:
    """Where blocks stand on an upright paper."""
    space = paper.space
    left = space.centre[0] - 0.5 * WIDTH
    return Box(low=(left, space.low[1] + HEIGHT + 2.0), high=(left + WIDTH, space.high[1] - MARGIN))


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Items downward from a corner at the origin, and the height that they take.

    Parameters
    ----------
    stays
        Whether it must stand on the page of the block that follows, as a heading must.
    split
        For a block that may go over the page: gives its part that fits into a height, and the rest.
    """

    items: tuple[Item, ...]
    height: Mm
    stays: bool = False
    split: "Callable[[Mm], tuple[Block, Block | None] | None] | None" = None


def pages(blocks: Sequence[Block], paper: Paper) -> list[list[Item]]:
    """Items of every page; a block that does not fit goes to the next page, its heading with it."""
    done: list[list[Item]] = [[]]
    area = room(paper)
    y = area.high[1]
    waiting = list(_groups(blocks))
    while waiting:
        group = waiting.pop(0)
        left = y - area.low[1]
        if sum(block.height + GAP for block in group) - GAP > left:
            first, rest = _split(group, left)
            if rest is not None:
                waiting.insert(0, [rest])
                group = first
            elif done[-1]:
                done.append([])
                y = area.high[1]
                waiting.insert(0, group)
                continue
        for block in group:
            done[-1] += (placed(item, 1.0, (area.low[0], y)) for item in block.items)
            y -= block.height + GAP
    return done


def _split(group: list[Block], room: Mm) -> tuple[list[Block], Block | None]:
    """Give the part of a group that fits into the room and the rest; no rest where it cannot be parted."""
    *heads, last = group
    left = room - sum(head.height + GAP for head in heads)
    found = None if last.split is None else last.split(left)
    return (group, None) if found is None else ([*heads, found[0]], found[1])


def _groups(blocks: Sequence[Block]) -> list[list[Block]]:
    """Blocks with the headings that belong to them."""
    groups: list[list[Block]] = []
    waiting = False
    for block in blocks:
        if waiting:
            groups[-1].append(block)
        else:
            groups.append([block])
        waiting = block.stays
    return groups


def heading(text: str, letters: Mm = 5.0) -> Block:
    """Heading that stays with what follows it."""
    item = Text(text=text, position=(0.0, -RISE * letters), height=letters, face=Face.BOLD)
    return Block(items=(item,), height=block_depth(1, letters), stays=True)


def words(text: str, letters: Mm, width: Mm = WIDTH, face: Face = Face.REGULAR) -> Block:
    """Give a paragraph."""
    items, height = paragraph((0.0, 0.0), text, width, letters, face)
    return Block(items=items, height=height)


def numbered(sentences: Sequence[str], letters: Mm) -> list[Block]:
    """Sentences with their numbers, a block each so that they may go over the page."""
    return [_hung(f"{number}", sentence, letters) for number, sentence in enumerate(sentences, 1)]


def ticked(sentences: Sequence[str], letters: Mm) -> list[Block]:
    """Sentences with a box to tick before each."""
    return [_ticked(sentence, letters) for sentence in sentences]


def _hung(mark: str, sentence: str, letters: Mm) -> Block:
    indent = 2.4 * letters
    items, height = paragraph((indent, 0.0), sentence, WIDTH - indent, letters)
    return Block(
        items=(Text(text=mark, position=(0.0, -RISE * letters), height=letters), *items), height=height
    )


def _ticked(sentence: str, letters: Mm) -> Block:
    indent = 2.4 * letters
    items, height = paragraph((indent, 0.0), sentence, WIDTH - indent, letters)
    return Block(items=(tick((0.0, -RISE * letters), letters), *items), height=height)


def tick(foot: Point, size: Mm) -> Stroke:
    """Box to tick, with its lower left corner at a point."""
    return Stroke(curve=rectangle(foot, (foot[0] + size, foot[1] + size)), pen=WIDE)


def rows(columns: Sequence[Column], cells: Sequence[Sequence[str]], letters: Mm, boxes: bool) -> Block:
    """Table that may go over the page, where its heading is repeated.

    Parameters
    ----------
    boxes
        Whether the first cell of every row gets a box to tick.
    """
    whole = _table(columns, cells, letters, boxes)

    def split(room: Mm) -> tuple[Block, Block | None] | None:
        count = len(cells) - 1
        while count > 0 and _depth(columns, cells[:count], letters) > room:
            count -= 1
        # fewer than three rows are not worth a heading of their own
        if count < min(3, len(cells) - 1) or count == 0:
            return None
        return _table(columns, cells[:count], letters, boxes), rows(columns, cells[count:], letters, boxes)

    return Block(items=whole.items, height=whole.height, split=split)


def _depth(columns: Sequence[Column], cells: Sequence[Sequence[str]], letters: Mm) -> Mm:
    return table((0.0, 0.0), columns, cells, letters).box.height


def _table(columns: Sequence[Column], cells: Sequence[Sequence[str]], letters: Mm, boxes: bool) -> Block:
    drawn = table((0.0, 0.0), columns, cells, letters)
    ticks: list[Item] = []
    if boxes:
        for number in range(len(cells)):
            top = -_depth(columns, cells[:number], letters)
            side = min(letters, columns[0].width - 2.0 * PAD)
            ticks.append(tick((0.5 * (columns[0].width - side), top - 0.7 * PAD - RISE * letters), side))
    return Block(items=(*drawn.items, *ticks), height=drawn.box.height)


def blanks(labels: Sequence[str], letters: Mm) -> Block:
    """Fields beside each other to fill in by hand: a label, and room to write below it."""
    return fields([(label, "") for label in labels], letters)


def fields(pairs: Sequence[tuple[str, str]], letters: Mm) -> Block:
    """Fields beside each other: a small label, and its text or room to write below it."""
    each, small = WIDTH / len(pairs), 2.5
    room = each - 2.0 * PAD
    items: list[Item] = []
    top = max(paragraph((0.0, 0.0), label, room, small)[1] for label, _ in pairs) + 1.4
    deep = 0.0
    for number, (label, text) in enumerate(pairs):
        x = number * each + PAD
        items += paragraph((x, -0.6), label, room, small)[0]
        lines, depth = paragraph((x, -top), text, room, letters, Face.BOLD)
        items += lines
        deep = max(deep, depth)
    height = top + max(deep, 1.6 * letters) + 0.8
    items += [
        Stroke(curve=Line(start=(number * each, 0.0), end=(number * each, -height)), pen=TABLE)
        for number in range(1, len(pairs))
    ]
    items.append(Stroke(curve=rectangle((0.0, -height), (WIDTH, 0.0)), pen=WIDE))
    return Block(items=tuple(items), height=height)


Maker = Callable[[Mm, Mm], list[Block]]


def fewest_pages(make: Maker, letters: Sequence[tuple[Mm, Mm]], most: int, paper: Paper) -> list[list[Item]]:
    """Pages at the first lettering at which there are no more than so many; at the last, however many.

    Parameters
    ----------
    make
        Gives the blocks for a lettering height of the whole, and one of what is read once.
    """
    for main, fine in letters:
        found = pages(make(main, fine), paper)
        if len(found) <= most:
            break
    return found
