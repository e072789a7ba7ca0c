"""Tables in and out: a boat as two lists, of its parts and of its conductors."""
