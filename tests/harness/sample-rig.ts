// The numbers of a rig for tests of one part of the core: a plain pair, a fine digit, nothing known of lag or accuracy.
import { type RigSpec, recordedRigSchema, rigSpecOf } from '../../src/core/model/rig.ts'

export const sampleRig: RigSpec = rigSpecOf(
  recordedRigSchema.parse({
    manometer: { driver: 'ascii-line', suctionSign: -1, digit: { value: 0.1, unit: 'Pa' } },
    meter: { driver: 'scpi-query', pair: 'com-no' },
  }),
)
