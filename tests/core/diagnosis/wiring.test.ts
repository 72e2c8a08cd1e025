import { describe, expect, test } from 'vitest'
import { type ForeignBench, rewrite } from '../../harness/foreign-recording.ts'
import { found, judged, ratedPa, session, within } from './sessions.ts'

const open = '+9.9E+37\n'
const network = { wired: 'network' } as const
const com = (pair: string): Pick<ForeignBench, 'rig'> => ({ rig: { meter: { pair } } })
const blockage = { kind: 'blockage', limits: { make: { low: 0.22, high: 0.28, unit: 'inH2O' } } }

describe('never-makes', () => {
  const stuck = (peakPa: number, change: Partial<ForeignBench> = {}) =>
    session({ stuck: 'rest', peakPa, cycles: 1, ...change })

  test('is undecided where nothing moves up to 1.5 × the rated point', () => {
    const recording = stuck(1.6 * ratedPa)
    expect(found(recording)).toEqual([['never-makes', 'undecided']])
    expect(judged(recording).findings[0]!.text).toMatch(/no kick: check the port, the hose/)
  })
  test('is not said of a stroke that went less far', () => {
    expect(found(stuck(1.4 * ratedPa))).toEqual([])
  })
  test('fails where the network sees NC open and NO never close', () => {
    const dead = rewrite(session({ ...network, cycles: 1 }), 'meter', (_, text) =>
      text.startsWith('9.091') ? '1.000e+3\n' : text,
    )
    expect(found(dead)).toEqual([['never-makes', 'fail']])
    expect(judged(dead).verdict).toBe('fail')
  })
  test('is undecided on a network whose NC stays closed', () => {
    expect(found(stuck(1.6 * ratedPa, network))).toEqual([['never-makes', 'undecided']])
  })
})

describe('no-common', () => {
  test('is void where the mechanism kicks in every stroke and the contact never changes', () => {
    const recording = session({ wired: 'no-nc', cycles: 3 })
    expect(found(recording)).toEqual([['no-common', 'void']])
    expect(judged(recording).verdict).toBe('void')
  })
  test('is not said without a kick, nor of one stroke alone', () => {
    expect(found(session({ wired: 'no-nc', cycles: 3, kickPa: 0 }))).toEqual([])
    expect(found(session({ wired: 'no-nc', cycles: 0 }))).toEqual([])
  })
  test('gives way to never-makes only where no kick was seen', () => {
    const high = { peakPa: 1.6 * ratedPa, cycles: 3 }
    expect(found(session({ wired: 'no-nc', ...high }))).toEqual([['no-common', 'void']])
    expect(found(session({ wired: 'no-nc', kickPa: 0, ...high }))).toEqual([['never-makes', 'undecided']])
  })
})

describe('on-nc-pair and on-no-pair', () => {
  test('are void where the pair is closed at rest and opens on the rise, or the reverse', () => {
    const onNc = session({ wired: 'com-nc', cycles: 2 })
    expect(found(onNc)).toEqual([['on-nc-pair', 'void']])
    expect(judged(onNc).verdict).toBe('void')
    expect(found(session({ wired: 'com-no', cycles: 2, part: blockage, ...com('com-nc') }))).toEqual([
      ['on-no-pair', 'void'],
    ])
  })
  test('are not said of the right pair', () => {
    expect(found(session({ wired: 'com-nc', part: blockage, ...com('com-nc') }))).toEqual([])
  })
})

describe('stuck-closed', () => {
  test('fails where NO stays closed for over 5 s with the switch vented', () => {
    const recording = session({ stuck: 'actuated', cycles: 1 })
    expect(found(recording)).toEqual([['stuck-closed', 'fail']])
    expect(judged(recording).verdict).toBe('fail')
  })
  test('is not said before a stroke is over: it may as well be the other pair', () => {
    const recording = session({ stuck: 'actuated', cycles: 1 })
    const { startS } = recording.strokes[0]!
    const early = rewrite(recording, 'manometer', (tS, text) => (tS < startS ? text : '+0.00 Pa\r\n'))
    expect(found(early).map(([code]) => code)).not.toContain('stuck-closed')
  })
  test('is not said of four seconds', () => {
    const good = session()
    const closed = (forS: number) =>
      rewrite(good, 'meter', (tS, text) => (within(tS, 5, 5 + forS) ? '+3.1E-01\n' : text))
    expect(found(closed(4)).map(([code]) => code)).not.toContain('stuck-closed')
    expect(found(closed(6)).map(([code]) => code)).toContain('stuck-closed')
  })
})

test('A contact that closes while the manometer is silent is not stuck: nobody knows the pressure.', () => {
  const good = session()
  const { startS, endS } = good.strokes[3]!
  const silent = rewrite(good, 'manometer', (tS, text) => (within(tS, startS - 0.5, endS) ? null : text))
  expect(found(silent).map(([code]) => code)).not.toContain('stuck-closed')
})

describe('wrong-port', () => {
  test('is void where the switch trips at a pressure the other way', () => {
    const recording = session({ cycles: 1, rig: { manometer: { suctionSign: 1 } } })
    expect(found(recording)).toEqual([['wrong-port', 'void']])
    expect(judged(recording).findings[0]!.text).toMatch(/sign of the manometer \(suctionSign\) first/)
  })
  test('is not said where nothing trips at all', () => {
    const recording = session({ cycles: 1, stuck: 'rest', rig: { manometer: { suctionSign: 1 } } })
    expect(found(recording).map(([code]) => code)).not.toContain('wrong-port')
  })
})

describe('What the network alone can see', () => {
  const good = session(network)
  const s = good.strokes[2]!
  const shows = (fromS: number, toS: number, shown: string) =>
    rewrite(good, 'meter', (tS, text) => (within(tS, fromS, toS) ? shown : text))

  test('both throws closed fails; a single reading of it does not', () => {
    expect(found(shows(s.peakS - 1, s.peakS + 1, '6.43e+1\n'))).toEqual([['both-closed', 'fail']])
    expect(found(shows(s.peakS, s.peakS + 0.2, '6.43e+1\n'))).toEqual([])
  })
  test('a lead off is a note where enough cycles are left, undecided where not', () => {
    const seven = session({ ...network, cycles: 6 })
    const inOne = rewrite(seven, 'meter', (tS, text) =>
      within(tS, seven.strokes[2]!.makeS - 1, seven.strokes[2]!.makeS + 1) ? open : text,
    )
    expect(found(inOne)).toEqual([['lead-off', 'note']])
    expect(judged(inOne).verdict).toBe('pass')
    const recording = shows(s.makeS - 1, s.makeS + 1, open)
    expect(found(recording)).toEqual([['lead-off', 'undecided']])
    expect(judged(recording).verdict).toBe('undecided')
  })
  test('an NC that never closes is a note, and undecided where the part uses it', () => {
    const dead = (change = {}) =>
      rewrite(session({ ...network, cycles: 6, ...change }), 'meter', (_, text) =>
        text === '1.803e+2\n' ? '1.0e+3\n' : text,
      )
    expect(found(dead())).toEqual([['lead-off', 'note']])
    expect(judged(dead()).findings.find((f) => f.code === 'lead-off')!.text).toMatch(/^NC was never closed at rest/)
    expect(found(dead({ part: { kind: 'blockage' } }))).toContainEqual(['lead-off', 'undecided'])
  })
  test('shorted leads are told from leads that are off', () => {
    expect(judged(shows(s.peakS - 1, s.peakS, '1.0e-1\n')).findings[0]!.text).toMatch(/are shorted/)
  })
})
