"""What the library's objects are called here.

It is loaded only inside the functions that use it, so that the command line
starts fast; what type its objects have is therefore not known outside them.
"""

from __future__ import annotations

from typing import Any, TypeAlias

Sheet: TypeAlias = Any  #: a whole document, ezdxf.document.Drawing
Space: TypeAlias = Any  #: its model space
Entity: TypeAlias = Any  #: something drawn in it
Tag: TypeAlias = Any  #: a group code with its value
