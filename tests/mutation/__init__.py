"""How good the cases of the rules are: rules changed by a little must be found out by some case."""
