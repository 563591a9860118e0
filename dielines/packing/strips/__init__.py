"""Parts of any outline, nested on a strip of given width that shall be as short as can be."""
