// What a driver makes of an instrument's bytes: readings in SI units, and faults it could not read past.

/** `contact`: a state without ohms, as a continuity tester says it. */
export type Quantity = 'pressure' | 'resistance' | 'contact'

/** One value of one instrument. `value` is Pa (sign as displayed) or ohm, of a contact 1 closed and 0 open; ±Infinity = over-range; NaN = the instrument said "no number". */
export type Reading = {
  quantity: Quantity
  value: number
  /** Canonical unit it was read in (`inH2O`, `Pa`, `ohm`; `state` of a contact): a change in mid-session voids the test. */
  unit: string
  /** Size of the last digit shown, in Pa or ohm; null where the text does not tell. */
  digit: number | null
  /** Characters of its whole frame, its end included: the time on the wire is taken from it. */
  frameBytes: number
  /**
   * Where the line tells it: microseconds of the instrument's own clock when the value was taken, since any moment of its own.
   * Each reading has one or none has. The driver counts on past the clock's own round; where it goes back the instrument began again.
   */
  deviceUs?: number | undefined
}

export type FaultCode =
  /** Bytes that are no reading of this kind of instrument. */
  | 'unreadable'
  /** HOLD, MIN, MAX, REL: the display does not follow the pressure. */
  | 'held'
  /** What it shows on a low battery cannot be trusted. */
  | 'low-battery'
  /** A number without unit where neither line nor option states one. */
  | 'no-unit'
  /** Ohms where pressure was expected, or the reverse: the instruments are swapped. */
  | 'wrong-quantity'
  /** A frame longer than the driver allows. */
  | 'overlong'
  /** The instrument reported an error of its own. */
  | 'device-error'

/** Text is safe to show: printable ASCII only, at most 80 characters. */
export type Fault = { code: FaultCode; text: string }

/** `memory` is what the last call returned, null at first and after each reconnect. */
export type Decoded<M> = { readings: readonly Reading[]; faults: readonly Fault[]; memory: M }

/** Which way bytes went: from the instrument, or out to it. */
export type Way = 'received' | 'sent'

/** Bytes of one port into readings, its driver's options already bound: what `step` needs of a driver. */
export type Decode = (memory: unknown, chunk: string, way: Way) => Decoded<unknown>
