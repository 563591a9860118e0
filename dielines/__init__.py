"""From a one-page description of a hand-made book to proved cut files.

Everything here is callable from Python; the talk with a person lives in the
package that the folder ``cli`` installs.
"""

__version__ = "0.1.0"
