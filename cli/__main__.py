"""``python -m dielines_cli`` is the command ``dielines``."""

import sys

from .main import main

sys.exit(main())
