"""What people touch: command line, window, canvas, panels, drawing and the printed pack."""
