/** A column of numbers that grows by one row at a time. */
export interface GrowingColumn {
  push(value: number): void;
  /** The numbers so far; a view, not a copy. */
  values(): Int32Array | Float64Array;
}

const FIRST_SIZE = 256;

export function growingColumn(kind: 'whole' | 'decimal'): GrowingColumn {
  let room: Int32Array | Float64Array =
    kind === 'whole' ? new Int32Array(FIRST_SIZE) : new Float64Array(FIRST_SIZE);
  let length = 0;
  return {
    push(value) {
      if (length === room.length) {
        const larger = kind === 'whole' ? new Int32Array(2 * length) : new Float64Array(2 * length);
        larger.set(room);
        room = larger;
      }
      room[length++] = value;
    },
    values: () => room.subarray(0, length),
  };
}
