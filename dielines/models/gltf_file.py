"""A bound book as glTF 2.0: a body for every panel, a node for every part.

Source: Khronos glTF 2.0 specification (ISO/IEC 12113): metres, y up, z towards the
viewer, counter-clockwise triangles face outwards. The book lies on its back cover:
its x stays x, its height is y, its tail looks to the viewer. The file is binary,
with all corners in one buffer and no time or name of a machine in it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from ..folding.folded_book import FoldedBook
from .book_places import book_facets, true_shifts
from .slabs import Slab, slab

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

METRES = 1e-3  #: per millimetre
_FLOAT, _UNSIGNED = 5126, 5125  # component types
_CORNERS, _TRIANGLES = 34962, 34963  # targets of buffer views
#: Red, green, blue (linear, 0 to 1) of the face, the reverse and the edges of each role.
_COLOURS: Mapping[str, tuple[tuple[float, ...], ...]] = {
    "boards": ((0.55, 0.5, 0.42), (0.55, 0.5, 0.42), (0.4, 0.37, 0.33)),
    "covering": ((0.25, 0.36, 0.24), (0.7, 0.72, 0.66), (0.3, 0.36, 0.3)),
    "paper": ((0.95, 0.88, 0.74), (0.38, 0.53, 0.68), (0.8, 0.76, 0.68)),
}
_KINDS = {"boards": "boards", "wrap": "covering", "lining": "covering", "edges": "covering"}
_SIDES = ("face", "reverse", "edge")


def write_gltf(folded: FoldedBook) -> bytes:
    """Return the closed book as the content of a .glb file; the same book gives the same bytes.

    Boards, pages and covering lie as high as the channels hold them (upright).
    """
    model = _Model()
    for key, facets in book_facets(folded, folded.assembly, true_shifts(folded)).items():
        entry = folded.book.part(key)
        caliper = float(entry.stock.caliper.mm)
        bodies = [slab(facet, caliper) for facet in facets if facet.panel]
        if bodies:
            model.add(key, entry.title, bodies, _KINDS.get(entry.role, "paper"))
    return model.content(folded.book.title)


@dataclass
class _Model:
    """The file in the making: rows of the tables of glTF, and the bytes of all corners."""

    buffer: bytearray = field(default_factory=bytearray)
    views: list[Any] = field(default_factory=list)
    accessors: list[Any] = field(default_factory=list)
    meshes: list[Any] = field(default_factory=list)
    nodes: list[Any] = field(default_factory=list)

    def add(self, key: str, title: str, bodies: Sequence[Slab], kind: str) -> None:
        """Add a part as a mesh of up to three pieces (face, reverse, edges) with a node."""
        import numpy as np
        import pygltflib

        corners = _turned(np.vstack([body.corners for body in bodies]))
        position = self._corners(corners)
        first = list(_COLOURS).index(kind) * len(_SIDES)
        pieces = [
            pygltflib.Primitive(
                attributes=pygltflib.Attributes(POSITION=position),
                indices=self._triangles(_gathered(bodies, side)),
                material=first + number,
            )
            for number, side in enumerate(("face", "reverse", "sides"))
        ]
        self.meshes.append(pygltflib.Mesh(primitives=pieces, name=key))
        self.nodes.append(
            pygltflib.Node(mesh=len(self.meshes) - 1, name=key, extras={"title": title})
        )

    def _corners(self, corners: Array) -> int:
        low, high = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
        return self._accessor(corners.tobytes(), _CORNERS, _FLOAT, len(corners), "VEC3", low, high)

    def _triangles(self, triangles: Array) -> int:
        row = triangles.astype("<u4").ravel()
        low, high = [int(row.min())], [int(row.max())]
        return self._accessor(row.tobytes(), _TRIANGLES, _UNSIGNED, len(row), "SCALAR", low, high)

    def _accessor(
        self, content: bytes, target: int, component: int, count: int, kind: str,
        low: list[Any], high: list[Any],
    ) -> int:  # fmt: skip
        import pygltflib

        view = pygltflib.BufferView(
            buffer=0, byteOffset=len(self.buffer), byteLength=len(content), target=target
        )
        self.views.append(view)
        self.buffer += content  # floats and unsigned integers: always a multiple of four bytes
        self.accessors.append(
            pygltflib.Accessor(
                bufferView=len(self.views) - 1, componentType=component, count=count, type=kind,
                min=low, max=high,
            )
        )  # fmt: skip
        return len(self.accessors) - 1

    def content(self, title: str) -> bytes:
        """Return the file."""
        import pygltflib

        gltf = pygltflib.GLTF2(
            asset=pygltflib.Asset(version="2.0", generator="dielines"),
            scene=0,
            scenes=[pygltflib.Scene(nodes=list(range(len(self.nodes))), name=title)],
            nodes=self.nodes,
            meshes=self.meshes,
            materials=list(_materials()),
            accessors=self.accessors,
            bufferViews=self.views,
            buffers=[pygltflib.Buffer(byteLength=len(self.buffer))],
        )
        gltf.set_binary_blob(bytes(self.buffer))
        return b"".join(gltf.save_to_bytes())


def _turned(corners: Array) -> Array:
    """Return corners of the book (mm) in metres, y up."""
    import numpy as np

    turned = np.stack([corners[:, 0], corners[:, 2], -corners[:, 1]], axis=1) * METRES
    return (turned + 0.0).astype("<f4")


def _gathered(bodies: Sequence[Slab], side: str) -> Array:
    """Return the triangles of one side of all bodies, over the corners of all bodies."""
    import numpy as np

    starts = np.cumsum([0, *(len(body.corners) for body in bodies)])[:-1]
    return np.vstack(
        [getattr(body, side) + start for body, start in zip(bodies, starts, strict=True)]
    )


def _materials() -> Iterator[Any]:
    import pygltflib

    for kind, colours in _COLOURS.items():
        for side, colour in zip(_SIDES, colours, strict=True):
            surface = pygltflib.PbrMetallicRoughness(
                baseColorFactor=[*colour, 1.0], metallicFactor=0.0, roughnessFactor=0.9
            )
            yield pygltflib.Material(name=f"{kind} {side}", pbrMetallicRoughness=surface)
