import type { ColumnTable } from 'arquero';

/** What of danfo the notebooks rely on. */
interface Danfo {
  readonly DataFrame: new (columns: Readonly<Record<string, readonly unknown[]>>) => DanfoFrame;
}

export interface DanfoFrame {
  readonly columns: readonly string[];
  readonly values: readonly (readonly unknown[])[];
}

/**
 * A frame of Arquero as one of danfo. The library is large and is loaded when this is first called. Its tensors round to
 * 32 bits: describe, group and encode with it, but take no statistic from them.
 */
export async function toDanfo(table: ColumnTable): Promise<DanfoFrame> {
  const { DataFrame } = await danfo();
  const columns = table.columnNames().map(name => [name, Array.from(table.array(name))] as const);
  return new DataFrame(Object.fromEntries(columns));
}

/** A frame of danfo as one of Arquero, every column an array. */
export async function fromDanfo(frame: DanfoFrame): Promise<ColumnTable> {
  const { table } = await import('arquero');
  return table(
    frame.columns.map((name, place): [string, unknown[]] => [name, frame.values.map(row => row[place])]),
  );
}

/** Danfo as a whole, for its own functions. */
export async function danfo(): Promise<
  Danfo & Readonly<Record<string, (...given: readonly unknown[]) => DanfoFrame>>
> {
  return (await import('danfojs')) as never;
}
