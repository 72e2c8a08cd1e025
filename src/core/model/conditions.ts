// What was stated about the surroundings of a test: asked once per lot, null where not stated.
import { z } from 'zod'

export const conditionsSchema = z.looseObject({
  temperatureC: z.number().nullish(),
  attitude: z.string().nullish(),
  restS: z.number().nonnegative().nullish(),
})

export type Conditions = z.infer<typeof conditionsSchema>
