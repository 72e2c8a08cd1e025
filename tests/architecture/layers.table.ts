// Which room of the core and of the terminal lies above which.

/** Rooms of a part from the bottom up: each imports only from its own and those before it. A folder ends in a slash. */
export const layers: readonly (readonly string[])[] = [
  [
    'src/core/model/',
    'src/core/statistics/',
    'src/core/text/',
    'src/core/criteria.table.ts',
    'src/core/intake/',
    'src/core/signal/',
    'src/core/strokes/',
    'src/core/trips/',
    'src/core/trips/lag/',
    'src/core/typed/',
    'src/core/uncertainty/',
    'src/core/analyse.ts',
    'src/core/diagnosis/',
    'src/core/decision/',
    'src/core/judge.ts',
    'src/core/assess.ts',
    'src/core/rig-lag.ts',
    'src/core/plan/',
    'src/core/guide/',
    'src/core/view/',
  ],
  ['src/terminal/text/', 'src/terminal/panels/', 'src/terminal/parts/', 'src/terminal/screens/', 'src/terminal/'],
]
