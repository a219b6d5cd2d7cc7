// Writes synthetic-data/ anew: `npm run make:sample-data`. Nothing changes unless the generator did.
import { fileURLToPath } from 'node:url';
import { writeSampleData } from '../src/synthetic/files/sample-data.ts';

const root = fileURLToPath(new URL('../synthetic-data', import.meta.url));
for (const path of writeSampleData(root)) console.log(path);
