"""An empty DXF document with our layers, unit and page, and its text without a date."""

from __future__ import annotations

import io
from collections.abc import Iterable

from ...drawing import PROCESSING_STEPS, Drawing, Layer
from ...paths import Bounds
from .colours import nearest_number, red_green_blue
from .library import Sheet
from .options import DxfOptions, Version
from .units import INSUNITS, MEASUREMENT

APPLICATION = "DIELINES"  #: under which our extended data and record are registered

_EPOCH = 2451545.0  #: Julian date of 1 January 2000; every file bears it
_NO_GUID = "{00000000-0000-0000-0000-000000000000}"


def new_sheet(drawing: Drawing, options: DxfOptions) -> Sheet:
    """Return an empty document with the unit of the *options* and the layers of *drawing*."""
    from ezdxf.document import Drawing as Document

    sheet = Document.new(options.version.value)  # ezdxf.new warns of R12 that it keeps no unit
    if options.version is Version.R12:
        sheet.header["$HANDLING"] = 0  # no handles: they are optional there, and nobody needs them
    else:
        sheet.header["$INSUNITS"] = INSUNITS[options.unit]
        sheet.header["$MEASUREMENT"] = MEASUREMENT[options.unit]
        sheet.modelspace().block_record.dxf.units = INSUNITS[options.unit]
    sheet.appids.add(APPLICATION)
    _add_layers(sheet, _layers_of(drawing), options)
    return sheet


def _layers_of(drawing: Drawing) -> Iterable[Layer]:
    used = {item.layer for item in drawing.items()}
    used |= {caption.layer for group in drawing.groups for caption in group.captions}
    return (layer for layer in Layer if layer in used)


def _add_layers(sheet: Sheet, layers: Iterable[Layer], options: DxfOptions) -> None:
    for layer in layers:
        colour = options.colours[layer]
        entry = sheet.layers.add(layer.value, color=nearest_number(colour))
        if options.version not in (Version.R12, Version.R2000):
            entry.rgb = red_green_blue(colour)
        steps = [(1000, word) for word in PROCESSING_STEPS[layer] if word]
        entry.set_xdata(APPLICATION, steps)


def set_page(sheet: Sheet, drawing: Drawing, shown: Bounds, mm_per_unit: float) -> None:
    """Set the limits of *sheet* to the page, its extents to the paths, its view to both."""
    space = sheet.modelspace()
    width, height = drawing.width / mm_per_unit, drawing.height / mm_per_unit
    left, bottom, right, top = (float(edge) / mm_per_unit for edge in shown)
    space.reset_limits((0, 0), (width, height))
    space.reset_extents((left, bottom, 0), (right, top, 0))
    # The library takes a corner at the origin for one that is not set.
    sheet.header["$EXTMIN"] = (left, bottom, 0)
    sheet.header["$EXTMAX"] = (right, top, 0)
    sheet.set_modelspace_vport(max(width, height, 1e-6), center=(width / 2, height / 2))


def text_of(sheet: Sheet) -> str:
    """Return the text of *sheet* with dates, random ids and order the same in every run.

    The writer of the library stamps files with the time; these are its steps
    with ours between them.
    """
    from ezdxf.lldxf.tagwriter import TagWriter

    sheet.commit_pending_changes()
    sheet.update_all()
    _undate(sheet)
    registered = sheet.classes.classes  # from a set, in the order of its hashes
    sheet.classes.classes = dict(sorted(registered.items()))
    stream = io.StringIO()
    has_handles = sheet.acad_release != "R12"
    sheet.export_sections(TagWriter(stream, sheet.dxfversion, has_handles))
    return stream.getvalue()


def _undate(sheet: Sheet) -> None:
    from ezdxf.document import CREATED_BY_EZDXF, WRITTEN_BY_EZDXF

    for name in ("$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"):
        sheet.header[name] = _EPOCH
    for name in ("$FINGERPRINTGUID", "$VERSIONGUID"):
        sheet.header[name] = _NO_GUID
    stamps = sheet.ezdxf_metadata()
    for name in (CREATED_BY_EZDXF, WRITTEN_BY_EZDXF):
        stamps[name] = "dielines"
