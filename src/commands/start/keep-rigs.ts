// The rigs in the user's folder.
import type { Desk } from './desk.ts'
export async function keepRigs(_desk: Desk): Promise<void> {}
