// Processes as Linux lists them: who descends from whom, and who is gone.
import { readFileSync } from 'node:fs'

/** All processes that descend from `pid`, parents first; none where the system does not list them. */
export function descendantsOf(pid: number): number[] {
  try {
    const children = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim().split(' ').filter(Boolean)
    return children.map(Number).flatMap((child) => [child, ...descendantsOf(child)])
  } catch {
    return []
  }
}

/** Below `pid`: the process that records, known by its title, and the one that draws or prints, which started it. */
export function screenAndRecorder(pid: number): { screen: number; recorder: number } {
  const recorder = descendantsOf(pid).find((each) => readOf(each, 'cmdline').startsWith('makebreak acquisition'))
  if (recorder === undefined) throw new Error(`no process below ${pid} records`)
  return { screen: Number(/^PPid:\s*(\d+)$/m.exec(readOf(recorder, 'status'))?.[1]), recorder }
}

/** What Linux says of a process in the file `name`; nothing where it is gone. */
function readOf(pid: number, name: string): string {
  try {
    return readFileSync(`/proc/${pid}/${name}`, 'latin1')
  } catch {
    return ''
  }
}

/** Whether the process is gone; one that is dead but not yet collected counts as gone. */
export function isGone(pid: number): boolean {
  try {
    return /\) [ZX]/.test(readFileSync(`/proc/${pid}/stat`, 'latin1'))
  } catch {
    return true
  }
}

/** Sends a signal to a process that may be gone already. */
export function signalTo(pid: number, signal: NodeJS.Signals): void {
  try {
    process.kill(pid, signal)
  } catch {
    // Gone already.
  }
}
