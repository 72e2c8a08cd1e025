// A trip that is coming near into whether something happens around it: a display that freezes, a hand that pauses.
import type { Random } from './random.ts'

/** In this share of the trips, for a time between the two, beginning up to that time before the trip. */
export type TripWatch = { share: number; fromS: number; toS: number }

/** What begins later before a trip than this share of its time might be over too soon, as the pace changes. */
const latest = 0.8

export type NearTrip = {
  /** A new trip is to be waited for. */
  await(): void
  /** Seconds to the trip at the present rate into how long it lasts, where it begins now; null = not now. */
  begins(awayS: number): number | null
}

export function createNearTrip({ share, fromS, toS }: TripWatch, random: Random): NearTrip {
  let lastsS = 0
  let leadS = 0
  return {
    await() {
      const happens = random.uniform() < share
      lastsS = random.between(fromS, toS)
      leadS = happens ? latest * lastsS * random.uniform() : Number.NEGATIVE_INFINITY
    },
    begins(awayS) {
      if (!(awayS >= 0 && awayS <= leadS)) return null
      leadS = Number.NEGATIVE_INFINITY
      return lastsS
    },
  }
}
