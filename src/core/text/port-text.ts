// The port of an instrument into what the instrument is called in a sentence.
import type { PortName } from '../model/rig.ts'

export const portText = (port: PortName): string => (port === 'manometer-2' ? 'second manometer' : port)
