// A pressure over a short stretch of time as one closed formula, and what a first-order lag makes of it: exact, so no time step.

/** p(t) = offsetPa + slopePaPerS · t + Σ amplitudePa · exp(−t / tauS), t from the start of the stretch. */
export type Stretch = {
  offsetPa: number
  slopePaPerS: number
  decays: readonly { amplitudePa: number; tauS: number }[]
}

/** Pressure in Pa, `tS` seconds into the stretch. */
export function pressureAt(stretch: Stretch, tS: number): number {
  let pressurePa = stretch.offsetPa + stretch.slopePaPerS * tS
  for (const decay of stretch.decays) pressurePa += decay.amplitudePa * Math.exp(-tS / decay.tauS)
  return pressurePa
}

/**
 * What follows `stretch` with time constant `tauS`, starting from `startPa`: the solution of tau · y' + y = p(t).
 * `tauS` 0 gives the stretch itself.
 */
export function lagged(stretch: Stretch, startPa: number, tauS: number): Stretch {
  if (tauS <= 0) return stretch
  const decays = stretch.decays.map(({ amplitudePa, tauS: inputS }) => {
    // Equal time constants would divide by 0; a millionth of difference changes no digit shown.
    const otherS = Math.abs(inputS - tauS) < 1e-6 * tauS ? inputS * (1 + 1e-6) : inputS
    return { amplitudePa: (amplitudePa * otherS) / (otherS - tauS), tauS: otherS }
  })
  const offsetPa = stretch.offsetPa - stretch.slopePaPerS * tauS
  const ownPa = startPa - offsetPa - decays.reduce((sum, decay) => sum + decay.amplitudePa, 0)
  return { offsetPa, slopePaPerS: stretch.slopePaPerS, decays: [...decays, { amplitudePa: ownPa, tauS }] }
}

/**
 * Seconds until the stretch reaches `levelPa` going up (`rising`) or down, 0 if it is there already; null if it has
 * not by `lastsS`. Exact on straight stretches, to a nanosecond otherwise.
 */
export function reaches(stretch: Stretch, levelPa: number, rising: boolean, lastsS: number): number | null {
  const sign = rising ? 1 : -1
  const beyond = (tS: number) => sign * (pressureAt(stretch, tS) - levelPa) >= 0
  if (beyond(0)) return 0
  if (!beyond(lastsS)) return null
  if (stretch.decays.length === 0) return (levelPa - stretch.offsetPa) / stretch.slopePaPerS
  let lowS = 0
  let highS = lastsS
  while (highS - lowS > 1e-9) {
    const middleS = (lowS + highS) / 2
    if (beyond(middleS)) highS = middleS
    else lowS = middleS
  }
  return highS
}
