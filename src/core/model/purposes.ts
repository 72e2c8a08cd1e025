// Why a recording is made, as its `start` says it.

export const purposes = ['certify', 'check-switch', 'return', 'leak', 'in-place', 'free'] as const
export type Purpose = (typeof purposes)[number]
