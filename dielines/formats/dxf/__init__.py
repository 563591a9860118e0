"""DXF: written from a drawing, and read back into one."""
