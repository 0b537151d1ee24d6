/** The largest number that a variable-length quantity holds. Source: SMF 1.0, "Variable-length quantity". */
export const LARGEST_QUANTITY = 0x0fffffff

/** Bytes in the making: grows as it is written to. */
export class ByteWriter {
  #bytes = new Uint8Array(1024)
  #length = 0

  get length(): number {
    return this.#length
  }

  /** One byte, 0 to 255. */
  byte(value: number): void {
    if (this.#length === this.#bytes.length) this.#grow(1)
    this.#bytes[this.#length++] = value
  }

  bytes(values: ArrayLike<number>): void {
    if (this.#length + values.length > this.#bytes.length) this.#grow(values.length)
    this.#bytes.set(values, this.#length)
    this.#length += values.length
  }

  /** A whole number in `width` bytes, the highest first. */
  bigEndian(value: number, width: number): void {
    for (let shift = 8 * (width - 1); shift >= 0; shift -= 8) this.byte((value >>> shift) & 0xff)
  }

  /**
   * A variable-length quantity: seven bits a byte, the highest first, the top bit set on all but the last.
   *
   * @throws RangeError  unless it is a whole number from 0 to {@link LARGEST_QUANTITY}
   */
  quantity(value: number): void {
    if (!(Number.isInteger(value) && value >= 0 && value <= LARGEST_QUANTITY)) {
      throw new RangeError(`${value} is no variable-length quantity: whole numbers from 0 to ${LARGEST_QUANTITY} are`)
    }
    if (value >= 1 << 21) this.byte(0x80 | (value >> 21))
    if (value >= 1 << 14) this.byte(0x80 | ((value >> 14) & 0x7f))
    if (value >= 1 << 7) this.byte(0x80 | ((value >> 7) & 0x7f))
    this.byte(value & 0x7f)
  }

  /** A copy of what was written. */
  done(): Uint8Array {
    return this.#bytes.slice(0, this.#length)
  }

  #grow(by: number): void {
    const larger = new Uint8Array(Math.max(2 * this.#bytes.length, this.#length + by))
    larger.set(this.#bytes.subarray(0, this.#length))
    this.#bytes = larger
  }
}
