// Sentences that every report has, whatever its result: what the words mean, and what the paper does not say.

/** The words of this report beside those of labels and data sheets: trade usage, from memory. */
export const wordMap: readonly string[] = [
  'Make: the pressure difference at which the switch goes to its actuated state as the pressure rises; also called operating value, set point, switch-on point or actuation.',
  'Break: the pressure difference at which it returns as the pressure falls; also called release value, reset point, switch-off point or deactuation.',
  'Differential: make less break; also called dead band, hysteresis or switching difference.',
  'Pressures are differences towards the actuated state, counted as positive: for a draft switch, suction.',
  'U: expanded uncertainty, two-sided 95 %, k its coverage factor: the true value lies within ± U, as far as the stated causes go.',
]

/** What the paper is and is not. */
export const limitsOfPaper: readonly string[] = [
  'This shop is not an accredited laboratory. Results trace back to national standards only through the certificates named here.',
  'The results relate only to the part named here, as tested, on that day and in that attitude.',
  'They do not replace the maker’s approval of the part, the listing of the appliance or the inspection of the installation.',
  'Whoever fits the part must verify the draft in the appliance afterwards. Fit it only where its rating is called for.',
  'Local codes, the appliance’s instructions and licensed practice come first.',
]

/** What a digest and a signature show, and what they do not. */
export const whatItProves = {
  digest: 'Check it with `sha256sum` on the recording: another value means another file.',
  signed:
    'A signature that holds shows that whoever has that key sealed these bytes, not that what they say is true: who holds the key can lie.',
  notSigned: 'Nobody signed this recording: its seal shows accident, not intent.',
} as const
