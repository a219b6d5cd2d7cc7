/** The wear log by column, for it is long: row i is `hours[i]` worn on `date[i]` by `episodes[episode[i]]`. */
export interface WearColumns {
  readonly episodes: readonly string[];
  readonly episode: Int32Array;
  readonly date: Int32Array;
  /** Place in `WEAR_SOURCES`. */
  readonly source: Uint8Array;
  readonly hours: Float64Array;
}
