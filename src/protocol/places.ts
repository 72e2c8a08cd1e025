// An instrument's role and the places that the rig states into where in a list each quantity is found.
import type { Quantity } from '../core/model/reading.ts'

type Options = Readonly<Record<string, string | number>>
export type Place = { place: number; quantity: Exclude<Quantity, 'contact'> }

/** The options `item`, `pressureItem`, `resistanceItem`, or those of another `name`: places in `where`, counted from 1. */
export function placeOptions<N extends 'item' | 'column'>(name: N, where: string) {
  const place = (what: string, first: number) =>
    ({ kind: 'number', min: 1, max: 32, default: first, whole: true, help: `Place of ${what} in ${where}.` }) as const
  const [pressure, resistance] = bridgeNames(name)
  return {
    [name]: place('the value', 1),
    [pressure]: place("a bridge's pressure", 1),
    [resistance]: place("a bridge's resistance", 2),
  }
}

export function placesOf(role: 'manometer' | 'meter' | 'bridge', options: Options, name: 'item' | 'column'): Place[] {
  if (role !== 'bridge')
    return [{ place: Number(options[name]), quantity: role === 'meter' ? 'resistance' : 'pressure' }]
  const [pressure, resistance] = bridgeNames(name)
  return [
    { place: Number(options[pressure]), quantity: 'pressure' },
    { place: Number(options[resistance]), quantity: 'resistance' },
  ]
}

function bridgeNames(name: string): [string, string] {
  const capital = `${name.slice(0, 1).toUpperCase()}${name.slice(1)}`
  return [`pressure${capital}`, `resistance${capital}`]
}
