// Lessons: a fault drawn by chance, hidden, watched, named by the learner and then told; the score lasts as long as the program.
import { randomInt } from 'node:crypto'
import { type Rating, ratingOf } from '../../core/model/part.ts'
import { findScenario, lessonNames, lessonScenario } from '../../simulation/find-scenario.ts'
import { type Scenario, truthOf } from '../../simulation/scenario.ts'
import {
  type Fault,
  grade,
  hideFault,
  revealTexts,
  type Score,
  scored,
  scoreText,
} from '../../terminal/screens/lesson.ts'
import type { Choice } from '../../terminal/screens/pick-list.ts'
import { showPage } from '../show-page.ts'
import { type Desk, pickOne } from './desk.ts'
import { playVirtually } from './play-virtually.ts'

const intro = [
  'A simulated test is played. Something may be wrong with the part, the rig or the hand, or nothing at all.',
  'Its findings and its verdict are hidden. Watch pressure, contact, cycles and links, at any pace, back and forth.',
  'When you think you know, n opens the list. Then you read what it was and what the recording shows of it.',
]

/** One lesson after the other until the learner leaves. `score` is kept by whoever calls. */
export async function giveLessons(desk: Desk, score: Score): Promise<Score> {
  const begun = score.rounds > 0 ? [...intro, '', scoreText(score)] : intro
  let go = await showPage(desk.host, 'Lesson', begun, { next: 'begin' })
  let now = score
  while (go === 'next') {
    const seed = randomInt(1, 2 ** 31)
    const round = await giveLesson(desk, lessonScenario(seed), seed, now)
    if (round === null) return now
    now = round.score
    go = await showPage(desk.host, 'Lesson: what it was', round.texts, { next: 'next lesson' })
  }
  return now
}

/** One lesson; null where it was given up. */
async function giveLesson(
  desk: Desk,
  scenario: Scenario,
  seed: number,
  score: Score,
): Promise<{ score: Score; texts: string[] } | null> {
  for (;;) {
    const played = await playVirtually(desk, scenario, seed, { speed: 20, lesson: hideFault })
    if (played.told === null) return null
    const named = await pickOne(desk, faultRows(), 'What is wrong with this bench?')
    if (named === null && desk.host.over()) return null
    // Back from the list: the same test again.
    if (named === null) continue
    const truth = faultOf(scenario)
    const next = scored(score, grade(named, truth))
    const { result } = played.told.told
    return {
      score: next,
      texts: revealTexts({ named, truth, result, part: scenario.part, truePa: truthOf(scenario), score: next }),
    }
  }
}

function faultRows(): Choice<Fault>[] {
  return lessonNames.map((name) => {
    const fault = faultOf(findScenario(name, 1))
    return { value: fault, cells: [fault.title] }
  })
}

function faultOf(scenario: Scenario): Fault {
  const { name, title, expected, part } = scenario
  return { name, title, findings: expected.findings, side: sideOf(truthOf(scenario), ratingOf(part)) }
}

/** The side of its limits on which the part really makes, else breaks. */
function sideOf(truePa: ReturnType<typeof truthOf>, { limits }: Rating): Fault['side'] {
  for (const [pa, limit] of [
    [truePa.makePa, limits.make],
    [truePa.breakPa, limits.break],
  ] as const) {
    if (pa !== null && pa < (limit?.lowPa ?? Number.NEGATIVE_INFINITY)) return 'low'
    if (pa !== null && pa > (limit?.highPa ?? Number.POSITIVE_INFINITY)) return 'high'
  }
  return null
}
