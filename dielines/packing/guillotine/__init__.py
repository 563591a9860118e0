"""Boxes cut out of sheets by cuts from edge to edge, as with a paper trimmer."""
