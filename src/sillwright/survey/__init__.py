"""From readings to the adjusted wall: geometry with its uncertainty.

Answers: what is the true shape of each opening and how sure is that; which reading contradicts the others;
was the laser level, was it knocked; what is not determined; what to measure next. From a `Job` to a `Survey`
(for people) and a `Wall` (for the packages that decide on it). Knows nothing of the units to be set.
"""

from sillwright.survey.batch import adjust_batch
from sillwright.survey.instruments import laser_tilt_sd, reading_sd, two_peg
from sillwright.survey.like import BatchResult, LikeOpenings, LikeSds
from sillwright.survey.model import NextReading, Survey
from sillwright.survey.network import OpeningNet
from sillwright.survey.next_reading import measure_next
from sillwright.survey.observation import Profile, Terms, plus
from sillwright.survey.orthant import probabilities_all_above, probability_all_above
from sillwright.survey.outliers import cleanse
from sillwright.survey.preview import Preview, Untaken, preview
from sillwright.survey.report import report
from sillwright.survey.wall import Wall

__all__ = [
    "BatchResult",
    "LikeOpenings",
    "LikeSds",
    "NextReading",
    "OpeningNet",
    "Preview",
    "Profile",
    "Survey",
    "Terms",
    "Untaken",
    "Wall",
    "adjust_batch",
    "cleanse",
    "laser_tilt_sd",
    "measure_next",
    "plus",
    "preview",
    "probabilities_all_above",
    "probability_all_above",
    "reading_sd",
    "report",
    "two_peg",
]
