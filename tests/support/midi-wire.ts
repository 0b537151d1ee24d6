import type { MidiPort } from '../../src/play/midi-output.ts'

/** A message on its way: `@600 90 1c 64`, milliseconds and bytes; `now` for as soon as possible. */
export class MidiWire implements MidiPort {
  readonly id = 'wire'
  readonly name = 'a wire'
  connected = true
  readonly messages: { readonly bytes: readonly number[]; readonly atMs: number }[] = []

  send(bytes: readonly number[], atMs: number): void {
    this.messages.push({ bytes, atMs })
  }

  clear(): void {}

  /** What has come since the last look. */
  take(): readonly string[] {
    return this.messages.splice(0).map(({ bytes, atMs }) => messageText(bytes, atMs))
  }
}

/** A message as a row: when it is sent, and its bytes in hexadecimal. */
export function messageText(bytes: readonly number[], atMs: number): string {
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join(' ')
  return `${atMs === 0 ? 'now' : `@${Math.round(atMs * 1000) / 1000}`} ${hex}`
}
