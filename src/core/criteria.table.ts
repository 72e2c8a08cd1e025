// The name of each threshold of the core into its value, unit, source and meaning: every threshold once.
//
// In the units S is the rated point, T the half tolerance, u a standard and U an expanded uncertainty.

const shopRule = 'shop rule'
const practice = 'common practice, no source'
const parallel = 'arithmetic of parallel resistors'

type Row = readonly [value: number, unit: string, source: string, meaning: string]

const table = {
  // Intake: rests, strokes, and the three resistors, which read 0, 64.3, 90.9, 180.3 or 1 000 ohm, or open.
  restShare: [0.2, '× S', shopRule, 'below it the switch counts as vented'],
  strokeShare: [0.3, '× S', practice, 'a stroke goes at least so far, half as far again as a rest; less is a wobble'],
  liveZeroShare: [0.05, '× S', shopRule, 'while a test runs: this near the zero so far a reading is rest'],
  liveZeroReadings: [50, 'readings', shopRule, 'while a test runs: so many at rest make the zero'],
  sleepUs: [3e6, 'µs', shopRule, 'longer without one of the four ticks a second, and the machine was suspended'],
  shortedBelowOhm: [32, 'ohm', parallel, 'network: below it the leads touch'],
  bothBelowOhm: [78, 'ohm', parallel, 'network: below it both throws are closed'],
  noClosedBelowOhm: [130, 'ohm', parallel, 'network: below it NO is closed'],
  ncClosedBelowOhm: [500, 'ohm', parallel, 'network: below it NC is closed'],
  neitherBelowOhm: [3000, 'ohm', parallel, 'network: below it neither is closed; above it a lead is off'],

  // Signal: the instrument's own times under lines that came late.
  atOnceUs: [5000, 'µs', shopRule, 'an answer late by less is as punctual as any'],
  lateShare: [
    0.25,
    '× period',
    shopRule,
    'a line later than its beat by more came late; nearer to another, they came at once',
  ],
  beatLines: [8, 'lines', shopRule, 'fewest that show a beat'],
  beatS: [4, 's', shopRule, 'within it a machine catches up with the lines that it held up'],
  evenShare: [
    0.95,
    '× steps between lines',
    shopRule,
    'so many tell within how much of their time readings were taken',
  ],
  beatShare: [0.9, '× lines on time', shopRule, 'so many keep one beat, or the instrument has none'],
  clumpPeriods: [
    2.25,
    '× period',
    shopRule,
    'lines that come at once after so long without any are a clump: two periods, give or take',
  ],
  clockBlockS: [60, 's', shopRule, "an instrument's own clock runs evenly in two of them on end"],
  clockParts: [
    10,
    'parts',
    shopRule,
    'of two such blocks: the least delay of each shows how well the least of all is known',
  ],
  clockSkew: [
    0.01,
    'µs/µs',
    shopRule,
    'a clock runs no more than this fast or slow: a ceramic resonator keeps half of it',
  ],
  clockLeapS: [1, 's', shopRule, 'a clock that gains or loses more at once for good began again, or stopped'],
  twiceShare: [0.9, '× lines', shopRule, 'more in pairs of one value: the instrument sends everything twice'],

  // Signal: zero, wild readings, displays that repeat themselves.
  zeroDelayUs: [1e6, 'µs', shopRule, 'after a mark, before its zero begins'],
  zeroS: [10, 's', shopRule, 'rest that makes a zero: the longest that is averaged'],
  zeroRestUs: [0.5e6, 'µs', shopRule, 'shortest rest that is a zero'],
  zeroReadings: [3, 'readings', shopRule, 'fewest that make a zero'],
  zeroNoises: [3, '× noise', shopRule, 'farther off, a reading has left the rest'],
  zeroLeavingReadings: [2, 'readings', shopRule, 'so many in a row that have left it end a rest'],
  zeroOpeningReadings: [10, 'readings', shopRule, 'until there are so many the noise of the first ones counts'],
  zeroMedianReadings: [5, 'readings', shopRule, 'until there are so many the median of the first ones is their mean'],
  closingZeroShare: [0.1, '× S', shopRule, 'without marks: the last zero lies this near the first'],
  wildNoises: [10, '× noise', shopRule, 'alone by so much among neighbours that agree, a reading is wild'],
  wildDigits: [3, 'digits', shopRule, 'the same, where the digit is coarse'],
  wildWidths: [2, '× width of the neighbours', shopRule, 'the same, where the pressure moves'],
  sameDigits: [0.25, 'digits', shopRule, 'nearer than this two readings show the same'],
  leapDigits: [1.5, 'digits', shopRule, 'a step of the display from here on leaps over a digit'],
  renewalRuns: [10, 'runs', shopRule, 'fewest runs of equal readings that tell how a display renews itself'],
  repeatedReadings: [2, 'readings', shopRule, 'a typical run of so many, with leaps: the display repeats itself'],
  stayingReadings: [3, 'readings', shopRule, 'a digit that stays shows so often; less is flicker between two'],
  rateWindowUs: [1e6, 'µs', shopRule, 'readings of this time make the rate that is shown'],
  rateReadings: [4, 'readings', shopRule, 'fewest of them, from a longer time where need be'],
  lineReadings: [3, 'readings', shopRule, 'fewest for a straight line'],
  tremorReadings: [8, 'readings', shopRule, 'fewest that tell a tremor'],
  tremorSds: [0.5, '× scatter', shopRule, 'nearer the line, a reading is on neither side of it'],
  tremorCrossings: [4, 'crossings', shopRule, 'fewest of the line in a tremor: a mere change of pace crosses it twice'],

  // Signal: setting a manometer up.
  setUpRestUs: [4e6, 'µs', shopRule, 'a rest is this long'],
  setUpReadings: [6, 'readings', shopRule, 'fewest in a rest'],
  setUpNoises: [8, '× noise', shopRule, 'range of the readings in a rest'],
  setUpDigits: [3, 'digits', shopRule, 'the same, where the digit is coarse'],
  pullNoises: [10, '× noise', shopRule, 'a pull that shows the sign is greater'],
  pullDigits: [5, 'digits', shopRule, 'the same, where the digit is coarse'],
  letGoPulls: [2, '× least pull', shopRule, 'a pressure that is let go to show the damping is greater'],
  letGoHeldS: [0.8, 's', shopRule, 'it is held so long before'],
  letGoReadings: [3, 'readings', shopRule, 'fewest while it is held'],
  letGoShare: [0.1, '× level', shopRule, 'they lie this near to their median'],
  letGoS: [2, 's', practice, 'longer from 90 % to 10 %, and it was the hand and not the display'],

  // The display: what the end of a stroke shows of it.
  ventShare: [0.03, '× S', shopRule, 'from above this a fall to rest tells how slow the display can be'],
  ventNoises: [6, '× noise', shopRule, 'and from above this'],
  restNoises: [2, '× noise', shopRule, 'what noise may hide at either end of that fall'],
  hiddenPeakShare: [
    0.15,
    '× pressure',
    shopRule,
    'so much more a peak may be than a display that averages shows of it',
  ],
  ventLookS: [4, 's', shopRule, 'such a fall is looked for so near the end of a stroke'],
  cutOffShare: [
    0.1,
    '× S',
    shopRule,
    'a fall to rest from above this in one reading may be a cut-off and tells nothing',
  ],
  stopShare: [
    0.03,
    '× S a second',
    shopRule,
    'a hand that slows down from a quicker pace shows how slow the display can be',
  ],
  stopTimes: [6, '× what noise hides', shopRule, 'seen by a way of more: of many spans some look like a stop by noise'],
  stopFullShare: [0.8, '× greatest pace', shopRule, 'seen from no less: a mean that comes to its end looks quick'],
  stopBackS: [3, 's', shopRule, 'which is looked for so long before'],
  stopStayS: [1.5, 's', shopRule, 'so long behind it the pressure does not turn back'],
  stopClearS: [1, 's', shopRule, 'and no trip lies there: a contact is seen so late at most'],

  // Strokes and their contact.
  bounceUs: [20_000, 'µs', practice, 'shorter is bounce; the circuit sees a longer one as a transition'],
  clearOfEdgeUs: [0.2e6, 'µs', shopRule, 'nearer to an edge a resistance may still be settling'],
  clearOfEdgeIntervals: [2, '× interval', shopRule, 'the same: a meter integrates over the edge'],
  chatterTransitions: [3, 'transitions', shopRule, 'fewest in the band about a trip that are chatter'],
  chatterShare: [0.1, '× S', shopRule, 'half-width of that band'],
  chatterStayShare: [0.2, '× S', shopRule, 'farther off than this between two transitions the crossing is over'],
  heldReadings: [2, 'readings', shopRule, 'fewest of a state that one line gone wrong cannot give'],

  // Trips: where each is looked for, and when a kick dates it.
  kickShare: [0.2, '× S', shopRule, 'what a kick may take back (prior standard deviation)'],
  kickSds: [2, '× standard deviation', shopRule, 'from here on it is a plunger that jerks, and dates nothing'],
  kickWindowS: [0.3, 's', shopRule, 'a kick is dated by the readings so long after it begins'],
  kickWindowReadings: [3, 'readings', shopRule, 'and by so many of them where they are rare'],
  kickWindowDelays: [2, 'delays', shopRule, 'and by those within so many delays of the display'],
  turnSds: [3, '× standard deviation', shopRule, 'a ramp that goes the other way by more has turned'],
  turnLogLik: [30, 'log likelihood', shopRule, 'and no trip lies there'],
  kickFadesS: [0.2, 's', shopRule, 'quickest time constant by which a kick may fade'],
  kickFadingS: [1.5, 's', shopRule, 'so long behind its window a kick may still fade'],
  kickFadeShare: [0.12, '× kick a second', shopRule, 'by so much of the largest'],
  kickEvidence: [5, 'log likelihood', shopRule, 'a kick is seen beyond it, its moment free to choose'],
  kickNoises: [3, '× noise', shopRule, 'and beyond this size'],
  searchBackS: [2.5, 's', shopRule, 'a kick is looked for so long before the contact: instruments are late'],
  searchIntervals: [1.5, '× both intervals', shopRule, 'the same, where the readings are rare'],
  searchOnS: [1.2, 's', shopRule, 'and so long after the contact'],
  searchPastStrokeUs: [1e6, 'µs', shopRule, 'and this far outside its stroke'],
  searchPastPeakUs: [0.5e6, 'µs', shopRule, 'a make this far behind the peak'],
  rampLeadS: [4, 's', shopRule, 'readings before the search: the rate of a slow hand settles'],
  rampTailS: [1.5, 's', shopRule, 'readings after the search'],
  rampReachShare: [0.3, '× S', shopRule, 'farther from the trip lies what a quick stroke or a vent makes'],
  paceShare: [0.12, '× S', shopRule, 'how steady the hand is shows this near a trip: farther off it may be quick'],
  paceEndUs: [0.5e6, 'µs', shopRule, 'and up to so long before it: the kick does not come from the hand'],
  paceReadings: [3, 'readings', shopRule, 'a stretch tells it with more than these'],
  plausibleLogLik: [6, 'log likelihood', shopRule, 'moments this much less likely than the best may still be the trip'],
  agreeingLogLik: [6, 'log likelihood', shopRule, 'a trip agrees with a shift that fits it this nearly as its best'],

  // Trips: what voids a cycle, told by the guide too while the hand can still heed it.
  reversalShare: [0.02, '× S', shopRule, 'the pressure turned back by more: a reversal'],
  reversalNoises: [6, '× noise', shopRule, 'the same, where the noise is great'],
  reversalDigits: [2, 'digits', shopRule, 'the same, where the digit is coarse'],
  reversalReachShare: [
    0.2,
    '× trip',
    shopRule,
    'this near the trip a reversal voids the cycle: the trip as it was, to the guide as it is expected until it comes',
  ],
  // Not `paceEndUs`: here the whole fall of the kick, there how early it may begin.
  kickUs: [0.7e6, 'µs', practice, 'a kick has fallen to its end, damping included: a fall that goes on is the hand'],
  // The sampling of one trip decides, not a fixed speed: T/8 each is T/20 in the mean of six.
  tooFastShare: [1 / 8, '× T', shopRule, 'standard error that the pace may leave of one trip'],
  gapIntervals: [3, '× interval', shopRule, 'so long without a reading is a gap'],
  gapS: [0.3, 's', shopRule, 'no less is one: adapters deliver in bursts'],
  gapLeadUs: [0.5e6, 'µs', shopRule, 'a gap in the pressure counts from so long before the trip'],
  linkBreakUs: [1e6, 'µs', shopRule, 'a cable that comes or goes this near a trip is a gap'],
  frozenUs: [1e6, 'µs', shopRule, 'a display that shows one pressure for longer may be frozen'],
  frozenIntervals: [3, '× interval', shopRule, 'and for longer than this: some displays renew slowly'],
  frozenOwedDigits: [
    3,
    'digits',
    shopRule,
    'it is where more was due by the pace of the hand, and then it leaps by more',
  ],
  // Not `sameDigits`: here readings are compared over seconds, in which the zero that was subtracted drifts.
  frozenDigits: [0.5, 'digits', shopRule, 'nearer than this it shows one pressure'],
  frozenOwedShare: [0.5, '× way', shopRule, 'and by more than this of the way that the hand was going'],

  // Lag: whether kicks or rates tell it. Rates need to differ less for the hose, since kicks date those trips.
  datingTrips: [3, 'trips', shopRule, 'fewest of which kicks can date a session'],
  datingEvidence: [3, 'log likelihood', shopRule, 'a typical kick of such a session is seen beyond it'],
  datingNoises: [3, '× noise', shopRule, 'and beyond this size'],
  datingScatter: [
    0.5,
    '× kick',
    shopRule,
    'and its trips differ by less: a diaphragm jumps by the same volume each time',
  ],
  dampingShare: [
    0.2,
    '× damping',
    shopRule,
    'how well the shape of a kick tells the damping of the display, as a standard uncertainty',
  ],
  agreeingShare: [0.45, '× trips', shopRule, 'fewest that agree on one shift between contact and kick'],
  openingsShare: [
    0.75,
    '× openings',
    shopRule,
    'where a meter is late at closings: fewest whose own kicks agree on one shift',
  ],
  lagConflictSds: [3, '× u', shopRule, 'farther apart, the lag of the rig and that of the session conflict'],
  lagRateRatio: [1.5, '× slowest rate', shopRule, 'the fastest trip is faster, or rates tell no lag'],
  hoseRateRatio: [1.4, '× slowest rate', shopRule, 'the fastest trip is faster, or rates tell nothing of the hose'],
  hoseTwiceFrom: [6, 'trips', shopRule, 'from so many on two at each pace must show it'],
  hoseShapeShare: [
    0.1,
    '× lag',
    shopRule,
    'what bottle and diaphragm make of a hose or a display, beside its plain shape',
  ],
  hoseS: [0.1, 's', shopRule, 'a hose that delays less is left in the scatter'],
  hoseProbability: [0.999, 'probability', shopRule, 'so is one that chance makes more often than this leaves'],
  allowanceProbability: [0.95, 'probability', shopRule, 'one-sided bound of a lag or a leak that is not excluded'],
  mostDisplayS: [1.5, 's', shopRule, 'longest delay of a display that no kick and no vent bounds'],
  mostAverageS: [2, 's', shopRule, 'longest stretch that a display averages over'],
  kickDisplayS: [0.65, 's', shopRule, 'a display that vents leave later than this is not told by kicks alone'],
  kickDisplayTimes: [2, '× what is beyond', shopRule, 'so much of it is paid for, up to all that is open'],
  meterDelayS: [0.3, 's', shopRule, 'a meter that sees closings later by more hunts for its range'],
  meterDelaySds: [3, '× u', shopRule, 'and by more than this'],

  // Readings that a person types.
  reactionS: [
    0.5,
    's',
    shopRule,
    'so late at most a person reads a display, or presses a key, after the contact changed',
  ],
  typedZeroDigits: [5, 'digits', shopRule, 'a typed zero farther off is asked about before it is recorded'],
  typedFarTimes: [
    3,
    '× expected',
    shopRule,
    'so is a pressure that is so many times what is expected, or as much less',
  ],
  typedKickShare: [
    1,
    '× (make − break) as typed',
    shopRule,
    'a kick moves a display by no more before it is read: with five litres of ballast and more',
  ],
  typedSpellTimes: [2, '× usual', shopRule, 'a state that lasts longer may hide a stroke without its change'],
  typedUsualShare: [0.25, '× states', shopRule, 'of the times that a state lasts: the usual one'],
  typedDisplayS: [0.5, 's', practice, 'a display that a person reads renews itself so often: a slow one'],

  // Tightness: what the rests at the peaks show, and what is allowed for where they do not.
  restPaceShare: [0.01, '× S a second', shopRule, 'faster, the hand is not still at a peak'],
  restStepS: [0.5, 's', shopRule, 'looked at over so long'],
  peakRestShare: [0.9, '× peak', shopRule, 'it rests above this'],
  peakRestS: [0.8, 's', shopRule, 'shortest rest at a peak that tells of a leak'],
  peakRestReadings: [4, 'readings', shopRule, 'and with no fewer'],
  mostVolumeRatio: [25, '× P0·Cd', shopRule, 'a bottle of 10 litre beside the smallest diaphragm, where no kick tells'],
  leakAllowanceShare: [0.1, '× value', shopRule, 'what a leak may take of a pressure where nothing bounds it'],
  lineRecordDays: [7, 'days', shopRule, 'so long what a test of the line alone has shown counts for other tests'],

  // A second manometer at the switch end: what the line holds back before a trip, and how far the two differ.
  dropUs: [2e6, 'µs', shopRule, 'so long before a trip the two manometers are compared'],
  dropGuardUs: [0.3e6, 'µs', shopRule, 'and no nearer to it: the kick of the switch lies there'],
  dropReadings: [3, 'readings', shopRule, 'with no fewer of the second'],
  delayFalls: [3, 'vents', shopRule, 'fewest that tell how much later the second shows what the first does'],
  delayLevelUs: [1e6, 'µs', shopRule, 'before such a vent the two are brought to one level'],
  delayBeforeUs: [1.5e6, 'µs', shopRule, 'the vent is looked at from so long before it is over'],
  delayAfterUs: [1.5e6, 'µs', shopRule, 'and for so long behind that'],
  ceilingDigits: [1, 'digits', shopRule, 'a display so near the most that it shows has stopped there'],
  ceilingS: [1, 's', shopRule, 'for so long before the make'],
  ceilingReadings: [3, 'readings', shopRule, 'and so many of them'],
  ceilingPastShare: [0.04, '× S', shopRule, 'one that never goes past a make by so much may end there softly'],
  ceilingStrokes: [2, 'strokes', shopRule, 'one alone may be a hand that stopped as it tripped'],
  displaySendsS: [0.2, 's', shopRule, 'within so long a display sends what it has measured'],
  lineHoldsShare: [0.01, '× S', shopRule, 'a line that holds back more, whatever the pace, is plugged'],

  // Uncertainty: 95 %, two-sided.
  coverageQuantile: [0.975, 'probability', practice, 'its quantile makes the coverage factor of U'],
  coverageFactor: [2, '× u', practice, 'the same, where no degrees of freedom are counted'],
  barePoints: [2, 'points', practice, 'a certificate with no more tells nothing of what lies between'],
  betweenShare: [0.25, '× accuracy', shopRule, 'most that a manometer bends between points of its certificate'],
  betweenBareShare: [1, '× accuracy', shopRule, 'the same, between the only two points'],
  hysteresisShare: [
    1,
    '× accuracy',
    shopRule,
    'differs between rise and fall where it is not stated: the differential keeps it',
  ],
  meterShare: [0.01, '× reading', practice, 'error of a plain ohmmeter whose accuracy is not stated'],
  meterOhm: [0.1, 'ohm', practice, 'and what is added to it'],
  clipsOhm: [
    0.05,
    'ohm',
    shopRule,
    'by so much the leads may differ from what is taken off: clips never grip twice alike',
  ],

  // Findings of the bench.
  offsetShare: [0.05, '× S', practice, 'vented, a manometer that shows more is not at zero: water, or not zeroed'],
  zeroMovedShare: [0.2, '× U', shopRule, 'a zero that moved by more is told'],
  zeroJumpShare: [0.004, '× S', shopRule, 'a jump from rest to rest below it stays in the uncertainty of the zero'],
  zeroMovedSds: [3, '× u', shopRule, 'the same, by what its two rests leave open'],
  hoseWatchS: [0.5, 's', shopRule, 'a hose that delays the switch by more is watched'],
  hosePluggedS: [2, 's', shopRule, 'one that delays it by more is plugged'],
  deafUs: [10e6, 'µs', practice, 'while a test goes on an instrument has so long to say something'],
  leakShare: [0.02, '× S', shopRule, 'what a leak may take in a minute at the rated point'],
  leakSettleS: [5, 's', shopRule, 'after a quick stroke the air warms again: it looks like a leak and stops'],
  leakHeldS: [10, 's', shopRule, 'shortest hold that tells a leak'],
  leakStepShare: [0.05, '× pressure', shopRule, 'a greater step between two readings is the hand'],

  leapShare: [0.01, '× S', shopRule, 'the plunger leaps where a reading goes on by more than this'],
  leapPaces: [2, '× pace', shopRule, 'and by more than the pace of the stretch makes of it'],
  leapsInWay: [2, 'leaps', shopRule, 'fewest before a trip, each out of a rest'],
  leapWayShare: [0.5, '× way', shopRule, 'it jerks past a trip where leaps make more of the way before it'],
  leapStrokeShare: [0.5, '× strokes', shopRule, 'and jerks where it does so in more of them'],

  // Findings of what came over the leads; below the notes an instrument may start in mid-line.
  qualityLines: [5, 'lines', shopRule, 'fewer that are bad are not told'],
  pausesLeast: [3, 'pauses', shopRule, 'of the manometer make a beat'],
  pauseEvenShare: [0.2, '× median', shopRule, 'and each lies this near to it, in length and in time'],
  badShare: [0.01, '× lines', shopRule, 'more that cannot be read, or are wild, are told'],
  badMostShare: [0.1, '× lines', shopRule, 'more of them, and the test decides nothing'],
  clumpedShare: [0.02, '× lines', shopRule, 'more that come in clumps are told'],
  clumpedMostShare: [
    0.5,
    '× lines',
    shopRule,
    'more of them in clumps longer than two periods, and the test decides nothing',
  ],

  // Findings of a unit that changed without a word.
  unitRatio: [1.8, '× smaller unit', shopRule, 'units that differ by less are not told apart by their readings'],
  unitJumpShare: [0.02, '× ratio', shopRule, 'a jump this near the ratio of two units'],
  unitSteadyShare: [0.1, '× pressure', shopRule, 'the readings before it and after it differ by less'],
  unitMadeShare: [1.3, '× S', shopRule, 'the contact must have made after a jump beyond'],
  unitOpenShare: [0.4, '× S', shopRule, 'and let go after one below'],
  unitContactUs: [1.5e6, 'µs', shopRule, 'the contact is looked at so long after it'],
  unitPeakShare: [
    0.08,
    '× ratio',
    shopRule,
    'peak and trips of a stroke this near that ratio to those of the one before',
  ],

  // Findings of leads and terminals.
  neverMakesShare: [1.5, '× S', practice, 'a part that has not made here never will'],
  neverMakesSds: [3, '× u', practice, 'nor at S + T and so much of the manometer, where that is higher'],
  blindKickReadings: [5, 'readings', shopRule, 'fewest of a stroke without an edge in which a kick is looked for'],
  blindKickPeakShare: [0.97, '× peak', shopRule, 'it is looked for below: the turn at the peak is a change of pace'],
  blindKickShare: [0.1, '× S', shopRule, 'kicks of the mechanism lie this near the typical one'],
  blindKicks: [2, 'kicks', shopRule, 'fewest that show that it moves'],
  stuckShare: [0.02, '× S', shopRule, 'below it a switch that stays made is vented and stuck'],
  stuckNoises: [2, '× noise', shopRule, 'the same, where the noise is great'],
  stuckUs: [5e6, 'µs', shopRule, 'and for longer than this'],
  stuckWatchedUs: [1e6, 'µs', shopRule, 'with a pressure reading this near each contact reading'],

  // Findings of the contact.
  doubtfulOhm: [2, 'ohm', practice, 'a contact above it is doubtful even where the part states no limit'],
  closures: [5, 'closures', shopRule, 'fewest that tell its resistance'],
  poorShare: [0.2, '× closures', shopRule, 'more that conduct poorly reject the switch; fewer leave it undecided'],
  highReadings: [3, 'readings', shopRule, 'in a row above the limit of the contact, fewest that are the contact'],
  highShare: [0.02, '× closed readings', shopRule, 'more above that limit here and there than chance makes'],
  highFailShare: [0.1, '× closed readings', shopRule, 'and more of them reject the switch'],
  highFailS: [5, 's', shopRule, 'so long in a row above that limit, as long as a short closure, rejects it too'],
  meterSettleUs: [
    2.5e6,
    'µs',
    shopRule,
    'so long after it closed a meter may still look for its range, which takes 2 s at most: what it shows fails no part',
  ],
  meterSettleS: [
    1.2,
    's',
    shopRule,
    'a meter that settles comes nearer to its value at least as fast as with this time constant',
  ],
  filmRatio: [3, '× last closure', shopRule, 'a first closure above it shows a film'],
  filmOhm: [1, 'ohm', shopRule, 'and above this'],
  heldShare: [1.1, '× make', shopRule, 'an opening at a higher pressure is intermittent'],
  deadBreakReadings: [2, 'readings', shopRule, 'both throws open for more is a dead break'],
  deadBreakS: [0.2, 's', shopRule, 'and for longer than this'],
  deadBreakShare: [0.01, '× S', shopRule, 'or over more pressure than this'],

  // Findings of single strokes: each is evidence, used or not.
  ventedShare: [0.05, '× S', shopRule, 'a part without a low break limit must have let go below'],
  mostLagS: [3, 's', shopRule, 'longest lag of hose, manometer and meter together'],
  releases: [2, 'releases', shopRule, 'fewest others that tell how long a release takes on this bench'],
  releaseIntervals: [2, '× both intervals', shopRule, 'a release that takes longer than the others by more'],
  otherMakesSds: [4, '× scatter', shopRule, 'a stroke beyond all other makes by more, and no make'],
  discardShare: [0.2, '× strokes', shopRule, 'more that were discarded keep a part from a pass'],

  // The second reader: what the raw readings alone allow of a trip.
  bracketNoises: [3, '× noise', shopRule, 'the bracket of a trip is wider by it, and by a digit'],
  bracketTrips: [3, 'trips', shopRule, 'where it can read fewer of those that count it changes nothing'],

  // Findings of the mechanism.
  lateBreakShare: [0.6, '× make', shopRule, 'a differential above it drops out too late'],
  steadyScatterShare: [0.02, '× S', shopRule, 'off its rating it trips steadily with less scatter'],
  spreadShare: [0.25, '× T', shopRule, 'single cycles that scatter by more'],
  spreadCycles: [3, 'cycles', shopRule, 'fewest that tell it'],
  trendShare: [0.25, '× T', shopRule, 'a trend over all cycles by more'],
  trendProbability: [0.999, 'probability', shopRule, 'that chance does not make it, by its quantile'],
  trendCycles: [6, 'cycles', shopRule, 'fewest that tell it'],
  stickyShare: [0.03, '× S', shopRule, 'a first make higher than the later ones by more'],
  stickyQuantile: [0.975, 'probability', shopRule, 'and by more than chance makes, by its quantile'],
  oddShare: [0.1, '× S', shopRule, 'a single stroke further from the others, where no limit is given'],
  stickyCycles: [3, 'cycles', shopRule, 'fewest later ones'],

  // Verdict.
  fewestCycles: [5, 'cycles', practice, 'with fewer that count no part passes'],
  settlingCycles: [25, 'cycles', practice, 'most in one sitting that would settle an undecided result'],

  // Lag of a rig from several tests.
  pooledProbability: [0.05, 'probability', practice, 'less likely than this, the tests did not have one lag'],

  // A run while it goes on.
  overdueShare: [1.15, '× S', shopRule, 'a first stroke without a contact is looked at from here on'],

  // Plan: what a test is worked out with before it begins.
  breakShare: [0.75, '× make', practice, 'where a good part breaks, its limits not telling'],
  scatterShare: [0.005, '× S', practice, 'scatter of a switch in good order'],
  intervalS: [0.5, 's', practice, 'between readings of an instrument that sends by itself: a slow one'],
  samplingShare: [0.05, '× T', shopRule, 'what the look at the contact may add to u at the rate of the ramp'],
  steadyShare: [0.02, '× S a second', practice, 'faster, a hand does not keep a ramp steady'],
  lagShare: [0.05, '× T', shopRule, 'what an unknown lag, or warmth, may cost at the rate of the ramp'],
  jerkShare: [0.2, '× T', shopRule, 'what a jerk of the plunger may take'],
  quietShare: [0.75, '× differential', shopRule, 'what kick and jerk may take back, or the switch trips again'],
  peakShare: [1.25, '× S', practice, 'peak of a stroke; a plan takes it of the make it expects'],
  proofShare: [0.5, '× proof', shopRule, 'a pressure that may harm the part'],
  usualPass: [0.95, 'probability', practice, 'a rig decides a part where a good one passes at least so often'],
  // Not `settlingCycles`: a bench does more where they are planned than where they are added in the end.
  plannedCycles: [50, 'cycles', shopRule, 'most that a plan looks at for a part to be decided'],
  countedCycles: [500, 'cycles', shopRule, 'most that a plan looks at for more to be of no use'],
  nearLeast: [1.05, '× least U', practice, 'at it more cycles are of no use'],
  digitsInT: [20, 'digits', practice, 'fewest of a suitable manometer in T'],

  // Guide: the steps of a test.
  preconditioningStrokes: [3, 'strokes', practice, 'strokes that do not count, before the cycles'],
  fastCycles: [2, 'cycles', shopRule, 'faster ones that tell the lag together with the slow ones'],
  briskRatio: [
    3,
    '× slow pace',
    shopRule,
    'their pace: a lag stays open by t·s·√(1/n + 1/m)/(ratio − 1), a third less than at 2.5',
  ],
  briskFromShare: [0.8, '× their pace', shopRule, 'slower, one is asked for a faster stroke'],
  holdS: [10, 's', practice, 'the switch is held so long'],
  // Asked of the hand. What a hold proves is told by its rest alone, from `peakRestS` on, wherever its peak is.
  holdShare: [1.2, '× S', practice, 'and near this pressure'],
  holdFromShare: [1.1, '× S', practice, 'no lower'],
  holdToShare: [1.45, '× S', practice, 'and no higher'],
  // A second manometer sits at the switch end where a pinched hose keeps it at rest, while the tee is drawn.
  pinchUs: [3e6, 'µs', shopRule, 'so long: one at the tee that is slow would have moved'],
  pinchShare: [0.25, '× S', shopRule, 'asked of the hand: above a rest, and no stroke yet'],
  pinchRestShare: [0.05, '× S', shopRule, 'it moves by less'],
  pinchNearShare: [0.1, '× S', shopRule, 'and rests no further from zero: a plug may keep some pressure behind it'],
  // Where the second was seen too seldom to tell of the line it still tells of the first.
  apartReadings: [5, 'readings', shopRule, 'fewest of the second in strokes'],
  apartMostReadings: [2000, 'readings', shopRule, 'most that are looked at, evenly'],
  unpinchedShare: [0.5, '× S', shopRule, 'drawn further nobody pinches the hose'],
  betweenStrokesS: [5, 's', practice, 'the switch rests vented between two strokes'],
  settledUs: [0.4e6, 'µs', shopRule, 'a bench that is still for so long is ready for its zero'],
  notDrawnUs: [2e6, 'µs', shopRule, 'still for so long, a pressure at rest is an offset and not a hand that draws'],
  // No zero yet: the guide only waits so long that one can be taken; how much of it is averaged `zeroNoises` says.
  stillShare: [0.02, '× S', practice, 'movement of a vented bench that still counts as still'],
  stillDigits: [
    4,
    'digits',
    shopRule,
    'the same, where the digit is coarse; where the noise is great `zeroNoises` each way',
  ],
  stillUs: [20e6, 'µs', shopRule, 'longest stillness that is looked for'],
  silenceUs: [2e6, 'µs', shopRule, 'in a longer silence nobody saw that it was still'],

  // Guide: the stroke.
  slowShare: [0.3, '× trip', practice, 'the ramp is slow this near a trip that is expected'],
  slowKnownShare: [0.15, '× trip', practice, 'and this near one that is known'],
  lingerUs: [1e6, 'µs', shopRule, 'the hand keeps its pace behind a release: a vent at once looks like a kick'],
  soonS: [1.5, 's', practice, 'a hand needs so long to slow down'],
  evenS: [2.5, 's', shopRule, 'after a change of pace the readings tell of the hand again'],
  peakMakeShare: [1.15, '× make', shopRule, 'peak of a stroke of a part that makes high'],
  atPeakShare: [0.98, '× peak', shopRule, 'from here on the stroke has come to its peak'],
  fallenShare: [
    0.05,
    '× S',
    shopRule,
    'below its top by more, the stroke goes down: more than a reversal, so that a wobble at the peak tells nothing',
  ],
  otherPairUs: [1e6, 'µs', shopRule, 'a contact that lets go so soon after the highest pressure is of the other pair'],
  // Three limits of a pressure the wrong way: of a trip (`restShare`), of a first stroke, and of any other time.
  wrongWayShare: [0.25, '× S', practice, 'a first stroke this far the wrong way does not come from drift'],
  alarmWrongWayShare: [0.5, '× S', shopRule, 'from here on a pressure the wrong way is told at any time'],
  twiceRated: [2, '× S', shopRule, 'above it: stop, and let down slowly'],
  silentUs: [3e6, 'µs', shopRule, 'an instrument that is silent for longer is told'],
  offSilentS: [10, 's', shopRule, 'one that is silent for longer may have switched itself off to save power'],
  offFromS: [300, 's', practice, 'none does so sooner'],
  offToS: [2100, 's', practice, 'nor later'],
  offPulledUs: [2e6, 'µs', shopRule, 'a cable that goes so soon after the last reading was pulled'],

  // Guide: the pace.
  steadyUs: [3e6, 'µs', shopRule, 'readings that show whether the hand is still'],
  floorShare: [0.002, '× S a second', practice, 'slower, the drift of the air counts for more than the hand'],
  floorMostShare: [0.25, '× fastest', shopRule, 'no faster than this is too slow'],
  paceEveryUs: [250_000, 'µs', shopRule, 'the pace is looked at so often'],
  paceRates: [8, 'rates', shopRule, 'so many of them tell the pace now'],
  paceBackShare: [
    0.9,
    '× limit',
    shopRule,
    'a pace that was too fast is good again below this, one too slow above its inverse',
  ],
  stillPaceShare: [0.5, '× slowest', shopRule, 'slower, the hand is still'],
  aimShare: [0.5, '× fastest', shopRule, 'the best pace, and no faster near a trip'],
  quickShare: [0.2, '× S a second', practice, 'away from a trip: faster, a hand overshoots'],
  fineShare: [0.5, '× margin', practice, 'an error that takes more is told'],
  tremorS: [2, 's', shopRule, 'readings that show a tremor'],
  burstS: [0.002, 's', shopRule, 'readings nearer to each other came in one burst'],
} as const satisfies Record<string, Row>

export type CriterionName = keyof typeof table

/** One row of the table, for a reader. */
export type Criterion = { name: CriterionName; value: number; unit: string; source: string; meaning: string }

/** All rows, in the order of the rooms of the core. */
export const criterionRows: readonly Criterion[] = Object.entries(table).map(
  ([name, [value, unit, source, meaning]]) => ({
    name: name as CriterionName,
    value,
    unit,
    source,
    meaning,
  }),
)

/** The values by their names, such as `criteria.restShare`. */
export const criteria = Object.fromEntries(criterionRows.map(({ name, value }) => [name, value])) as {
  readonly [Name in CriterionName]: number
}
