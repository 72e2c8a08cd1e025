// Text from outside (a file, an argument, a system message) into text that cannot drive a terminal.

// Control characters (C0, DEL, C1), line and paragraph separators, and marks that turn the writing direction.
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const unsafe = /[\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069]/g

/** `text` with each control character as `\u001b`: the form that JSON takes too. Empty text stays empty. */
export function escapeControls(text: string): string {
  return text.replace(unsafe, (char) => `\\u${char.charCodeAt(0).toString(16).padStart(4, '0')}`)
}
