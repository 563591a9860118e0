"""Which strips of the tapes that a person owns fill each zone of tape."""
