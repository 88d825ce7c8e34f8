"""``python -m profilestack.cli`` is the same as ``profilestack``."""

import sys

from profilestack.cli.main import main

sys.exit(main())
