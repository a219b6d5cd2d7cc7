import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { run } from '../src/cli/run.ts';
import { software } from '../src/cli/software.ts';
import { defaultPlan } from '../src/plan/plan.ts';
import { sha256 } from '../src/plan/sha256.ts';
import { canonicalJson } from '../src/reports/index.ts';
import { publishInto, type PublishedFile } from '../src/reports/publish/index.ts';

const SAMPLE = fileURLToPath(new URL('../synthetic-data', import.meta.url));
const RECOVERY = fileURLToPath(new URL('../reports/recovery', import.meta.url));

/**
 * Publishes the reports of the sample export into a folder, as reports/ holds them: cohort, duration and audit, and the
 * recovery study as it stands in reports/recovery.
 */
export async function publishSampleReports(folder: string): Promise<void> {
  for (const kind of ['cohort', 'duration', 'audit']) {
    let log = '';
    const words = ['report', kind, SAMPLE, '--out', folder, '--pdf', '--quiet'];
    const code = await run(words, { out: () => {}, log: text => void (log += text), terminal: false });
    if (code !== 0) throw new Error(`the ${kind} report was not published: ${log}`);
  }
  const { name, version } = software();
  await publishInto(
    folder,
    {
      report: 'recovery',
      kind: 'recovery',
      title: 'Do the methods find what is true?',
      cutOff: 'none (simulated)',
      software: `${name} ${version}`,
      planSha256: sha256(canonicalJson(defaultPlan())),
      inputs: [],
    },
    await filesIn(RECOVERY),
  );
}

/** Every file below a folder, its path with `/`, in code-point order. */
export async function filesIn(
  folder: string,
): Promise<readonly Extract<PublishedFile, { bytes: Uint8Array }>[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = entries
    .filter(entry => entry.isFile())
    .map(entry =>
      join(entry.parentPath, entry.name)
        .slice(folder.length + 1)
        .replaceAll('\\', '/'),
    )
    .sort();
  return Promise.all(paths.map(async path => ({ path, bytes: await readFile(join(folder, path)) })));
}
