"""From a diagram to neutral marks in millimetres, and from marks to screen and paper."""
