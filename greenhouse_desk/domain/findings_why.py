"""How each finding is worked out, step by step, with the source or mark of each."""

from __future__ import annotations

from greenhouse_desk.domain.care_reasons import WORKED_OUT
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.courses_forecast import KAPLAN_MEIER
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.findings import FEWEST_PLANTS, Finding
from greenhouse_desk.domain.sentences import capital

RECORD = "your own record"
WILSON = "derived here: Wilson's score interval"
MOIST_AIR = "published: ASHRAE Fundamentals 2017, ch. 1, Eq. 5 and 6"
TOO_FEW = Reason(f"A chart is drawn from {FEWEST_PLANTS.value:g} plants on; fewer pretend to no trend.",
                 FEWEST_PLANTS.source)
SETTLING = (
    Reason("Each plant counts for the days it was watched. One that left, died or is still under way counts that long "
           "and is not taken to have settled.", KAPLAN_MEIER),
    Reason("After each day on which plants settled, the share not yet settled is multiplied by the share of those "
           "still watched that did not settle that day.", KAPLAN_MEIER),
    Reason("The band holds the share with 95 % confidence; it is wide where few are left.",
           "derived here: Greenwood's variance, set exponentially so that it stays between 0 and 1"),
    Reason("Half settled is the first day with half or fewer left; its interval is where the band crosses one half.",
           "derived here: Brookmeyer and Crowley 1982"))
SOURCES = (
    Reason("A plant counts for its source when something showed on it while it stood apart.", RECORD),
    Reason("The bar is where the true share lies with 95 % confidence, from that many of so many plants.", WILSON))
MONTHS = (Reason("A plant counts once a month for each pest or disease, however often it was seen.", RECORD),)
LOSSES = (Reason("Causes are in your own words; the same words count together, whatever their case.", RECORD),)
ROOTS = (Reason("Living and dead roots and new tips as you counted them; lines join the counts.", RECORD),)
FLOWERING = (
    Reason("A plant counts once for each month of the year in which you wrote that it was in flower, from the first "
           "open flower to the last, whatever the year.", RECORD),
    Reason("The outlined months are those in which the genus usually blooms, as on the House page.",
           "from memory, or your own"))
AIR = (
    Reason("Temperature and humidity as read, by hand or by a logger; lines join the readings.", RECORD),
    Reason("Of a logger, means of VPD are means of each reading's own VPD: that of mean air would come out too low.",
           "published: Allen et al. 1998, FAO Irrigation and Drainage Paper 56, Eq. 12"),
    Reason("From what humidity on, and after how many hours, a night is too wet are house rules; a logger's half hour "
           "counts by its mean humidity.", "house rule"),
    Reason("Night is from dusk to sunrise at the home, date by date, or while the lamps of the place are off. Where no "
           "home is set, or on dates without dusk or sunrise there, the house rule's hours stand in.", "house rule"),
    Reason("VPD is the saturation pressure at that temperature times one minus the humidity; the dew point is the "
           "temperature at which that vapour saturates.", MOIST_AIR))


def rules(*constants: Constant) -> tuple[Reason, ...]:
    """House rules that a finding uses, each as a step."""
    return tuple(Reason(f"{capital(one.of)}: {one.value:g} {one.unit}.", one.source)
                 for one in constants)


def explained(finding: Finding) -> tuple[Reason, ...]:
    """The reasoning of a finding: what it rests on, how it is worked out, and its words as the conclusion."""
    return (Reason(f"Rests on {finding.rests_on}.", RECORD), *finding.why, TOO_FEW,
            Reason(finding.summary, WORKED_OUT))
