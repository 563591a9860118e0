"""The talk with the person: options, tables, progress, exit codes. No geometry here.

Installed as ``dielines_cli``. A command is one file in ``commands/``.
"""
