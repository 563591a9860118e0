"""One command a file, found here without a list to edit.

The file ``test_piece.py`` is the command ``test-piece``. It holds a function
``command`` whose signature gives arguments and options and whose docstring
gives the help. What a command needs to do its work is imported inside that
function, so that ``dielines --help`` need not load it.
"""
