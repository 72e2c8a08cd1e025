// The sizes of paper that reports are made for, and the decimal signs of tables for a spreadsheet.

export const papers = ['a4', 'letter'] as const
export type Paper = (typeof papers)[number]

export const decimals = ['point', 'comma'] as const
export type Decimal = (typeof decimals)[number]
