import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
export function referenceValues(name) {
    return JSON.parse(readFileSync(new URL(`values/${name}.json`, import.meta.url), 'utf8'));
}
/** An open dataset as rows of text; a missing value is an empty cell. */
export function dataset(name) {
    const text = readFileSync(new URL(`datasets/${name}.csv`, import.meta.url), 'utf8');
    return parse(text, { columns: true, skip_empty_lines: true });
}
export function numbers(rows, field) {
    return rows.map(row => {
        const text = row[field];
        if (text === undefined || text === '')
            throw new Error(`${field} has a missing value; filter the rows first`);
        return Number(text);
    });
}
