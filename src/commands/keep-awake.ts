// A test that runs into a computer that does not go to sleep meanwhile, where the system lets a program ask for that.
import { spawn } from 'node:child_process'
import { existsSync } from 'node:fs'

/**
 * Commands that keep the computer awake for as long as they run. Each ends when its input ends, which it does with this process,
 * however that came about.
 */
const commands: Partial<Record<NodeJS.Platform, readonly [string, ...string[]]>> = {
  linux: [
    'systemd-inhibit',
    ...['--what=idle:sleep', '--who=makebreak', '--why=A switch is being tested', '--mode=block', 'cat'],
  ],
  darwin: ['caffeinate', '-i', 'cat'],
  // ES_CONTINUOUS and ES_SYSTEM_REQUIRED of SetThreadExecutionState, by its documentation.
  win32: [
    'powershell.exe',
    ...['-NoProfile', '-Command'],
    `$m = '[DllImport("kernel32.dll")] public static extern uint SetThreadExecutionState(uint f);'; $t = Add-Type -MemberDefinition $m -Name Awake -PassThru; [void]$t::SetThreadExecutionState(2147483649); [void][Console]::In.ReadToEnd()`,
  ],
}

/** What is said before a test where this system cannot be asked to stay awake; null where it can. */
export function sleepWarning(platform = process.platform, booted = existsSync('/run/systemd/system')): string | null {
  const canAsk = platform === 'linux' ? booted : commands[platform] !== undefined
  return canAsk ? null : 'Nothing keeps this computer awake: switch its sleep off.'
}

/** Keeps the computer awake until the function that it gives is called. A system that refuses is left as it is. */
export function keepAwake(platform = process.platform): () => void {
  const [file, ...args] = commands[platform] ?? []
  if (file === undefined) return () => {}
  const child = spawn(file, args, { stdio: ['pipe', 'ignore', 'ignore'], windowsHide: true })
  child.on('error', () => {})
  child.stdin?.on('error', () => {})
  // A program that is done does not wait for it.
  child.unref()
  return () => child.stdin?.end()
}
