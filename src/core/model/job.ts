// Who a part is tested for, as the recording states it.

/** Null: not stated. */
export type Job = { customer: string | null; order: string | null }
