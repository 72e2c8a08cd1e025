// A process of its own that serves a brisk bench to nobody: writing to a full pair once stopped all else in it.
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { serveBench } from '../../src/simulation/serve.ts'

const [folder = ''] = process.argv.slice(2)
// What the manometer sends of itself in a whole test is many times what a pair holds.
const served = await serveBench({ scenario: findScenario('good', 1), seed: 1, speed: 300, folder, start: 'at-once' })
await served.finished
served.stop()
