// What a bench shows into the words of a continuity tester.
// Written from the table of drivers in README.md and what `makebreak driver list continuity-text` says.
import { talks } from './emulator.ts'

export const continuityWords = talks(20, ({ closed }) => (closed ? 'Short\r\n' : 'Open\r\n'))
