// Bytes written as hexadecimal pairs with spaces between them into latin1 text, one character a byte.
export const bytesOf = (hex: string): string => Buffer.from(hex.replaceAll(' ', ''), 'hex').toString('latin1')
