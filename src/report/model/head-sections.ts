// A judged recording into what a report begins with: who and when, which part, which earlier tests of it.

import { pairName } from '../../core/model/pair.ts'
import { pressureText } from '../../core/text/pressure-text.ts'
import { outsideText } from './outside-text.ts'
import type { Fact, Report, Section } from './report.ts'
import { type EarlierTest, type ReportInput, type ShopInput, unitsOf } from './report-input.ts'

export function headSections(input: ReportInput): Section[] {
  const { analysis, number, amends, shop, issued } = input
  const units = unitsOf(input)
  const { start, rating, rig } = analysis.setup
  const { part, job } = start
  const report: Fact[] = [
    { label: 'Number', value: number === null ? 'not allotted' : outsideText(number) },
    ...(amends ? [{ label: 'Takes the place of', value: outsideText(`${amends.number}: ${amends.why}`) }] : []),
    { label: 'Shop', value: outsideText(shop.name) },
    { label: 'Address', value: outsideText(shop.address) },
    { label: 'Place of the test', value: outsideText(shop.place) },
    { label: 'Customer', value: outsideText(job?.customer) },
    { label: 'Order', value: outsideText(job?.order) },
    { label: 'Received', value: null },
    { label: 'Tested', value: timeText(start.at) },
    { label: 'Issued', value: issued?.slice(0, 10) ?? null },
    { label: 'Tested by', value: outsideText(start.operator) },
    { label: 'Authorised by', value: null },
    { label: 'Purpose', value: start.purpose },
  ]
  const item: Fact[] = [
    { label: 'Model', value: outsideText(part.model) },
    { label: 'Serial number', value: outsideText(part.serial) },
    { label: 'Lot', value: outsideText(part.lot) },
    { label: 'Condition', value: outsideText(part.condition) },
    { label: 'Kind', value: part.kind },
    { label: 'Rated point', value: `${pressureText(rating.ratedPa, units, { upTo: 4 })} on ${rating.ratedOn}` },
    {
      label: 'Proof pressure',
      value: rating.proofPa === null ? null : pressureText(rating.proofPa, units, { upTo: 4 }),
    },
    { label: 'Pressure port used', value: null },
    { label: 'Contact pair', value: pairName(rig.pair) },
    { label: 'Adjustment', value: null },
    ...earlierFacts(input),
  ]
  return [
    { heading: 'Report', lead: true, blocks: [{ kind: 'facts', facts: report }] },
    { heading: 'Item tested', lead: true, blocks: [{ kind: 'facts', facts: item }] },
  ]
}

/** Whose report it is, at its head. */
export const shopHead = ({ name, address, logo }: ShopInput): Report['shop'] => ({
  ...{ name: outsideText(name), address: outsideText(address), logo },
})

/** Such as `2027-03-14 09:15 UTC`; a text that is no such time as it is. */
export function timeText(at: string): string | null {
  const [, day, minute] = /^(\d{4}-\d\d-\d\d)T(\d\d:\d\d)/.exec(at) ?? []
  return day === undefined ? outsideText(at) : `${day} ${minute} UTC`
}

function earlierFacts({ earlier, analysis, words }: ReportInput): Fact[] {
  const { continues, repeats } = analysis.setup.start
  const told = (test: EarlierTest) => {
    const word = test.verdict === null ? 'no verdict recorded' : words.verdictWords[test.verdict].word
    return `${timeText(test.at)} ${test.simulated ? 'simulated ' : ''}${word}`
  }
  const value = earlier === null ? null : earlier.length === 0 ? 'none found here' : earlier.map(told).join('; ')
  return [
    { label: 'Earlier tests of this serial', value },
    ...(continues ? [{ label: 'Goes on from', value: outsideText(continues) }] : []),
    ...(repeats ? [{ label: 'Repeats', value: outsideText(repeats) }] : []),
  ]
}
