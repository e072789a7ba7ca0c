"""The operating point of a drawn network: volts and amperes with the switches as they stand.

Three stages in three places: `build` turns a diagram into arrays, `solver` solves arrays and knows
no boats, `answer` turns arrays back into ids.
"""

from model.analysis.operating_point.answer import OperatingPoint, Round, operating_point

__all__ = ["OperatingPoint", "Round", "operating_point"]
