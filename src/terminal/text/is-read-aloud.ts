// The environment into whether the screen is read aloud.

/** By the variable with which Ink is asked for it too. Then a run is told in lines that are only added to. */
export const isReadAloud = (): boolean => process.env['INK_SCREEN_READER'] === 'true'
