// The ports that a rig names, what is remembered of them and what is plugged in into the port to open for each instrument.
import { type Adapter, adapterText, type PresentPort, sameKind, samePlug } from './adapter.ts'

/** An instrument's port. `exists`: whether anything is at the path; `adapter`: what was seen there before, null where nothing is known. */
export type WantedPort = { name: string; path: string; exists: boolean; adapter: Adapter | null }

export type PortChoice =
  /** `adapter`: `known` as it was before or never known, `found` elsewhere, `other` than before. `said`: a sentence for the operator. */
  | { path: string; adapter: 'known' | 'found' | 'other'; said: string | null }
  /** It is not plugged in, or more than one may be it. */
  | { path: null; why: 'absent' | 'unclear'; text: string; next: string }

const look = '`makebreak ports` shows which adapter is where'

/** What to open for each of `wanted`, in their order; no port for two of them. */
export function choosePorts(wanted: readonly WantedPort[], present: readonly PresentPort[]): PortChoice[] {
  const choices = wanted.map((port) => choosePort(port, wanted, present))
  return choices.map((choice, i) => {
    const twin = choices.findIndex((other, j) => j !== i && other.path === choice.path)
    const [port, other] = [wanted[i], wanted[twin]]
    if (choice.path === null || port === undefined || other === undefined) return choice
    const text = `The ${port.name} and the ${other.name} both lead to ${choice.path}.`
    return unclear(text, `Name the port of each in the rig: ${look}.`)
  })
}

function choosePort(port: WantedPort, wanted: readonly WantedPort[], present: readonly PresentPort[]): PortChoice {
  const { name, path, exists, adapter: before } = port
  const known: PortChoice = { path, adapter: 'known', said: null }
  if (before === null) return known
  const [it, ...twins] = placesOf(before, present)
  if (it !== undefined && twins.length === 0) return it.path === path ? known : moved(port, before, it)
  const here = present.find((each) => each.path === path)?.adapter ?? null
  const owner = wanted.find((each) => each !== port && each.adapter !== null && samePlug(here, each.adapter))
  if (here !== null && owner === undefined && sameKind(here, before)) {
    const like =
      before.serial === null ? 'it has no serial number' : `others have the serial number ${before.serial} too`
    const said = `The adapter of the ${name} at ${path} is at another plug than before, and ${like}: check that it is the right one.`
    return { path, adapter: 'found', said }
  }
  if (it !== undefined) {
    const places = [it, ...twins].map((each) => each.path).join(' and ')
    const text = `Which port is the ${name}'s is not clear: the same adapter (${adapterText(before)}) is at ${places}.`
    return unclear(text, `Unplug the ones that are not meant, or name the port in the rig: ${look}.`)
  }
  if (owner !== undefined || !exists) return absent(port, before, present, owner ?? null)
  // What the system does not list cannot be told from others.
  if (here === null) return known
  const said = `The port ${path} of the ${name} has another adapter (${adapterText(here)}) than before (${adapterText(before)}): check that it is the right one.`
  return { path, adapter: 'other', said }
}

/** Where `adapter` may be: by its serial number, of several such by the plug; without a serial number by the plug alone. */
function placesOf(adapter: Adapter, present: readonly PresentPort[]): PresentPort[] {
  const atPlug = present.filter((each) => samePlug(each.adapter, adapter))
  if (adapter.serial === null || atPlug.length === 1) return atPlug
  return present.filter((each) => sameKind(each.adapter, adapter))
}

function moved({ name, path }: WantedPort, adapter: Adapter, { path: now }: PresentPort): PortChoice {
  const by = adapter.serial === null ? ', known by its plug alone' : ''
  const said = `The adapter of the ${name} (${adapterText(adapter)}) is at ${now} now, not at ${path}${by}: ${now} is used.`
  return { path: now, adapter: 'found', said }
}

function absent(
  { name, path }: WantedPort,
  adapter: Adapter,
  present: readonly PresentPort[],
  owner: WantedPort | null,
): PortChoice {
  const taken = owner === null ? '' : `, and ${path} is the adapter of the ${owner.name} now`
  const text = `The adapter of the ${name} (${adapterText(adapter)}) is not plugged in${taken}.`
  const alike = present.filter((each) => sameKind(each.adapter, adapter)).map((each) => each.path)
  const next =
    alike.length === 0
      ? `Plug it in, or name another port in the rig: ${look}.`
      : `Put it back where it was; one of the same kind is at ${alike.join(' and ')}, and if that is meant, name it in the rig.`
  return { path: null, why: 'absent', text, next }
}

function unclear(text: string, next: string): PortChoice {
  return { path: null, why: 'unclear', text, next }
}
