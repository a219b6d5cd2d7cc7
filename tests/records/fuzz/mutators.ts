import { deflateRawSync } from 'node:zlib';
import type { Dice } from './dice.ts';

/** Changes the bytes of a file. */
export type Mutator = (bytes: Buffer, dice: Dice) => Buffer;

const HOSTILE = [
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  '=HYPERLINK("http://example.org","x")',
  "=cmd|' /C calc'!A0",
  '+1+1',
  '@SUM(1)',
  '../../../etc/passwd',
  '..\\..\\windows',
  '__proto__',
  'constructor',
  '1e309',
  '-1e309',
  'NaN',
  'Infinity',
  '9'.repeat(400),
  '0000-01-01',
  '0001-01-01',
  '9999-12-31',
  '2024-02-30',
  '+010000-01-01',
  '2025-13-45',
  '\u202e\u200b\ufeff',
  '😀'.repeat(50),
  '\ud800',
  '%s%n%x',
  '${7*7}',
  '{{7*7}}',
  "'; DROP TABLE wear; --",
  '\\u0000',
  '"',
  '""',
  ',',
  ';',
  '\t',
  '\r',
  '\n',
] as const;

const text =
  (change: (text: string, dice: Dice) => string): Mutator =>
  (bytes, dice) =>
    Buffer.from(change(bytes.toString('utf8'), dice));

const lines = (change: (rows: string[], dice: Dice) => readonly string[]): Mutator =>
  text((all, dice) => change(all.split('\n'), dice).join('\n'));

const cell = (change: (cell: string, dice: Dice) => string): Mutator =>
  lines((rows, dice) => {
    const at = dice.below(rows.length);
    const cells = (rows[at] ?? '').split(',');
    const k = dice.below(cells.length);
    cells[k] = change(cells[k] ?? '', dice);
    rows[at] = cells.join(',');
    return rows;
  });

/** Every way in which a file of an export is broken, by name. */
export const MUTATORS: Readonly<Record<string, Mutator>> = {
  truncated: (bytes, dice) => bytes.subarray(0, dice.below(bytes.length + 1)),
  'beginning lost': (bytes, dice) => bytes.subarray(dice.below(bytes.length + 1)),
  empty: () => Buffer.alloc(0),
  'blank lines alone': () => Buffer.from('\r\n\n \r\t\n'),
  'byte changed': (bytes, dice) => {
    const changed = Buffer.from(bytes);
    if (changed.length > 0) changed[dice.below(changed.length)] = dice.below(256);
    return changed;
  },
  'bytes put in': (bytes, dice) => {
    const at = dice.below(bytes.length + 1);
    const noise = Buffer.from(Array.from({ length: 1 + dice.below(8) }, () => dice.below(256)));
    return Buffer.concat([bytes.subarray(0, at), noise, bytes.subarray(at)]);
  },
  'NUL byte': (bytes, dice) => {
    const at = dice.below(bytes.length + 1);
    return Buffer.concat([bytes.subarray(0, at), Buffer.from([0]), bytes.subarray(at)]);
  },
  'UTF-16': bytes => Buffer.from(`\uFEFF${bytes.toString('utf8')}`, 'utf16le'),
  'UTF-16 in part': (bytes, dice) => {
    const at = dice.below(bytes.length + 1);
    return Buffer.concat([
      bytes.subarray(0, at),
      Buffer.from(bytes.subarray(at).toString('utf8'), 'utf16le'),
    ]);
  },
  'Windows-1252': bytes => Buffer.from(bytes.toString('utf8').replaceAll('e', 'é'), 'latin1'),
  'byte order marks': text((all, dice) => '\uFEFF'.repeat(1 + dice.below(3)) + all),
  'long line': lines((rows, dice) => {
    const at = dice.below(rows.length);
    rows[at] = (rows[at] ?? '') + dice.pick(['x', ',', '"', '1']).repeat(1 << (10 + dice.below(11)));
    return rows;
  }),
  'many columns': lines((rows, dice) => {
    const more = ','.repeat(1 << (8 + dice.below(10)));
    return dice.below(2) === 0 ? rows.map(row => row + more) : [(rows[0] ?? '') + more, ...rows.slice(1)];
  }),
  'hostile cell': cell((_, dice) => dice.pick(HOSTILE)),
  'hostile text in a cell': cell((old, dice) => `"${old}${dice.pick(HOSTILE).replaceAll('"', '""')}"`),
  'hostile everywhere': lines((rows, dice) => {
    const planted = dice.pick(HOSTILE);
    return rows.map((row, i) =>
      i === 0
        ? row
        : row
            .split(',')
            .map(() => planted)
            .join(','),
    );
  }),
  'hostile header': lines((rows, dice) => [`${rows[0] ?? ''},${dice.pick(HOSTILE)}`, ...rows.slice(1)]),
  'header twice': lines((rows, dice) => {
    const names = (rows[0] ?? '').split(',');
    return rows.map((row, i) => `${row},${i === 0 ? dice.pick(names) : 'x'}`);
  }),
  'header alone': lines(rows => [rows[0] ?? '']),
  'header lost': lines(rows => rows.slice(1)),
  'header in the middle': lines((rows, dice) => {
    rows.splice(dice.below(rows.length), 0, rows[0] ?? '');
    return rows;
  }),
  'rows twice': lines((rows, dice) => [...rows, ...rows.slice(1 + dice.below(rows.length))]),
  'rows lost': lines((rows, dice) => rows.filter((_, i) => i === 0 || dice.below(2) === 0)),
  'rows turned round': lines(rows => [rows[0] ?? '', ...rows.slice(1).reverse()]),
  'cells lost': lines((rows, dice) => {
    const at = dice.below(rows.length);
    rows[at] = (rows[at] ?? '').split(',').slice(1).join(',');
    return rows;
  }),
  'quotation mark': text((all, dice) => {
    const at = dice.below(all.length + 1);
    return `${all.slice(0, at)}"${all.slice(at)}`;
  }),
  'line ends': text((all, dice) =>
    all.replaceAll('\n', dice.pick(['\r', '\r\n', '\n\r', '\n\n', '\u2028', '\v'])),
  ),
  separators: text((all, dice) => all.replaceAll(',', dice.pick([';', '\t', '|', ' ', ', ', '","']))),
  'any date': text((all, dice) => {
    const year = String(dice.below(10_000)).padStart(4, '0');
    const day = String(dice.below(40)).padStart(2, '0');
    return all.replace(/\d{4}-\d\d-\d\d/g, date => (dice.below(3) === 0 ? `${year}-02-${day}` : date));
  }),
  'any number': text((all, dice) =>
    all.replace(/\b\d+(\.\d+)?\b/g, number =>
      dice.below(4) === 0
        ? dice.pick(['1e309', '-0', '.5', '5.', '0x10', '1_000', '١٢', '24.0000000001', '-1'])
        : number,
    ),
  ),
  'nested brackets': bytes => Buffer.concat([Buffer.from('['.repeat(20_000)), bytes]),
  'aliases of YAML': () => Buffer.from('a: &a [x,x]\nb: &b [*a,*a]\nc: &c [*b,*b]\nservice: *c\n'),
  'zip bomb': () => zipOf('xl/workbook.xml', Buffer.alloc(1 << 20)),
  'zip bytes': bytes =>
    Buffer.concat([Buffer.from('PK\u0003\u0004'), bytes, Buffer.from('PK\u0005\u0006'), Buffer.alloc(18)]),
};

/** A ZIP archive of one packed entry. */
export function zipOf(name: string, content: Buffer, claimed = content.length): Buffer {
  const packed = deflateRawSync(content, { level: 9 });
  const local = Buffer.alloc(30);
  local.writeUInt32LE(0x04034b50, 0);
  local.writeUInt16LE(8, 8);
  local.writeUInt32LE(packed.length, 18);
  local.writeUInt32LE(claimed, 22);
  local.writeUInt16LE(name.length, 26);
  const entry = Buffer.alloc(46);
  entry.writeUInt32LE(0x02014b50, 0);
  entry.writeUInt16LE(8, 10);
  entry.writeUInt32LE(packed.length, 20);
  entry.writeUInt32LE(claimed, 24);
  entry.writeUInt16LE(name.length, 28);
  const end = Buffer.alloc(22);
  const start = local.length + name.length + packed.length;
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(1, 8);
  end.writeUInt16LE(1, 10);
  end.writeUInt32LE(entry.length + name.length, 12);
  end.writeUInt32LE(start, 16);
  return Buffer.concat([local, Buffer.from(name), packed, entry, Buffer.from(name), end]);
}
