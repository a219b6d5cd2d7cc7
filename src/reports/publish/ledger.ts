import { sha256 } from '../../plan/sha256.ts';
import { canonicalJson } from '../canonical-json.ts';

/** One publication of one report. Holds no clock, so that the same runs give the same bytes. */
export interface LedgerEntry {
  /** From 1, in the order of publication. */
  readonly sequence: number;
  /** Folder of the report inside the reports folder. */
  readonly report: string;
  readonly kind: string;
  readonly title: string;
  /** Of the data, as 2026-04-07. */
  readonly cutOff: string;
  readonly period?: string;
  /** Counts how often the report was published; earlier versions stand under versions/. */
  readonly version: number;
  readonly software: string;
  readonly planSha256: string;
  /** Of the mapping file that the export was read through, if there was one. */
  readonly mappingSha256?: string;
  readonly inputs: readonly { readonly file: string; readonly sha256: string }[];
  /** By path in the folder of the report, in code-point order. */
  readonly outputs: readonly { readonly path: string; readonly sha256: string }[];
  /** Of the entry before, so that none can be changed or taken out unseen; 64 zeros for the first. */
  readonly previous: string;
  /** SHA-256 of this entry without this field, as canonical JSON. */
  readonly entrySha256: string;
}

export interface Ledger {
  readonly version: 1;
  readonly entries: readonly LedgerEntry[];
}

export const EMPTY_LEDGER: Ledger = { version: 1, entries: [] };
const NO_ENTRY = '0'.repeat(64);

/** A ledger with one entry more, chained to the last. */
export function withEntry(
  ledger: Ledger,
  entry: Omit<LedgerEntry, 'sequence' | 'previous' | 'entrySha256'>,
): Ledger {
  const last = ledger.entries[ledger.entries.length - 1];
  const chained = {
    ...entry,
    sequence: (last?.sequence ?? 0) + 1,
    previous: last?.entrySha256 ?? NO_ENTRY,
  };
  return {
    version: 1,
    entries: [...ledger.entries, { ...chained, entrySha256: sha256(canonicalJson(chained)) }],
  };
}

/** What does not hold in a ledger: an entry changed, taken out or moved; nothing where the chain is whole. */
export function ledgerFaults({ entries }: Ledger): readonly string[] {
  const faults: string[] = [];
  let previous = NO_ENTRY;
  for (const [i, entry] of entries.entries()) {
    const { entrySha256, ...rest } = entry;
    const name = `ledger.json, entry ${i + 1}`;
    if (sha256(canonicalJson(rest)) !== entrySha256) faults.push(`${name} was changed after it was written`);
    if (entry.previous !== previous || entry.sequence !== i + 1) {
      faults.push(`${name} does not follow the entry before it`);
    }
    previous = entrySha256;
  }
  return faults;
}

/** The latest entry of each report, in the order in which the reports were first published. */
export function latestEntries({ entries }: Ledger): readonly LedgerEntry[] {
  const latest = new Map<string, LedgerEntry>();
  for (const entry of entries) latest.set(entry.report, entry);
  return [...latest.values()];
}
