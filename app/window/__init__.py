"""The main window: it joins sheet, panels, worker and workspace, and owns nothing else."""
