"""Messages as a site might send them, put together by lot; none is meant to make sense."""

from __future__ import annotations

from hypothesis import strategies as st

NUMBERS = """
0 1 2 3 6 7 8 10 12 14 25 40 100 140 215 440 910 926 1050 1200 2100 2400 2.4 3.6 7.3 8.25 12.55 0.5 .75 1,200
1.200 2,4 10,5 1:1:6 4:1 6:1 1:6 1:½:4½ 5½ 5 1/2 ½ -3 -0 00 1e9 999999999 1.2.3 4..5 12/03/2025 07700 900123
£3.20 8am M4 M6 7N 3.6N 10' 8'6" 6m60 2no 3nr 9.6m 2400mm 20ft 12q l4m 1o m2 10m2 25kg 40kn 50% 3°c
"""
WORDS = """
wall walls aircrete block blocks blk brick joints mj joint mortar mix render mesh window door opening windows
high long thick x by and or not no without minus sorry about over under from left right corner free both ends
return parapet internal external dpc cavity inner outer leaf m mm ft in inches feet metres n/mm2 newton m2 sqm
bags cement lime sand plasticiser how many what where is it ok per at centres spacing crack hairline stepped
padstone load ties boards dabs reinforcement frost rain cold temperature u-value plus each two three half a
dozen twelve plot dwg spec clause thanks morning same another new everything eye splash weight roll rolls pack
sheet gable triangle sill above each total if just actually wait yes feet, metres! ? . , ; : - ( ) / & + = × ²
"""
PIECES = st.sampled_from(NUMBERS.split()) | st.sampled_from([*WORDS.split(), "\n", "\t", "\u00a0"])
MESSAGES = st.builds(
    lambda pieces, glue: glue.join(pieces),
    st.lists(PIECES, min_size=1, max_size=24),
    st.sampled_from([" ", " ", " ", "", ", ", "  "]),
)
