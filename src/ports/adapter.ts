// What a serial adapter states of itself and where it is plugged in: how far two are the same, and what one is called.

export type Adapter = {
  /** Numbers of maker and product, four hexadecimal digits each. */
  vendor: string
  product: string
  /** null where it states none; cheap adapters state none, or all the same. */
  serial: string | null
  /** The system's path of the plug; null where that is not known. */
  position: string | null
}

/** A port that is plugged in; `adapter` null where nothing tells it from others, as of one that is built in. */
export type PresentPort = { path: string; adapter: Adapter | null }

/** Whether both are of one kind: the same product with the same serial number, or both without one. */
export function sameKind(a: Adapter | null, b: Adapter): boolean {
  return a !== null && a.vendor === b.vendor && a.product === b.product && a.serial === b.serial
}

/** Whether both are of one kind and at the same plug. */
export function samePlug(a: Adapter | null, b: Adapter): boolean {
  return sameKind(a, b) && a?.position === b.position
}

/** What tells it from others, such as `0403:6001, serial A5` or `1a86:7523 at plug 0000:00:14.0 1.2:1.0`. */
export function adapterText(adapter: Adapter): string {
  return adapter.serial === null ? adapterDetails(adapter) : adapterDetails({ ...adapter, position: null })
}

/** All that is known of it. */
export function adapterDetails({ vendor, product, serial, position }: Adapter): string {
  const named = `${vendor}:${product}${serial === null ? '' : `, serial ${serial}`}`
  return position === null ? named : `${named} at plug ${position}`
}
