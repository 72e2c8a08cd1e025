// The user's own folders on this system: where parts, rigs, drivers and recordings are kept when no path is given.
import { join } from 'node:path'
import envPaths from 'env-paths'

/** `ports` and `shop` are files: what was seen of the ports of each rig, and the settings of reports. */
export type UserFolders = {
  parts: string
  rigs: string
  drivers: string
  shop: string
  recordings: string
  ports: string
  /** The key of this bench, the keys known here, and the chain of its recordings. */
  signing: string
  /** The numbers of reports. */
  numbers: string
  cache: string
}

/** Absolute paths; none of them need exist. The XDG variables are followed where they are set. */
export function userFolders(): UserFolders {
  const { config, data, cache } = envPaths('makebreak', { suffix: '' })
  return {
    parts: join(config, 'parts'),
    rigs: join(config, 'rigs'),
    drivers: join(config, 'drivers'),
    shop: join(config, 'shop.json'),
    recordings: join(data, 'recordings'),
    ports: join(data, 'ports.json'),
    signing: join(data, 'signing'),
    numbers: join(data, 'numbers'),
    cache,
  }
}
