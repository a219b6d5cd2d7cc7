import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

// A zone far from UTC: a calendar date that passes through a zoned clock would shift by a day and fail.
const env = { TZ: 'Pacific/Kiritimati' };

/** Files that take longest, longest first. */
const LONGEST = [
  'records/fuzz',
  'cli/report',
  'cli/help-examples',
  'cli/verify',
  'cli/hostile-places',
  'cli/report-truth',
  'cli/why',
  'reports/numbers-in-html',
  'reports/sample-reports',
].map(name => `/tests/${name}.test.ts`);

/** Long files start first, so that no processor is idle while another is at the last of them. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification): number => {
      const found = LONGEST.findIndex(name => moduleId.endsWith(name));
      return found < 0 ? LONGEST.length : found;
    };
    return (await super.sort(files)).sort((a, b) => place(a) - place(b));
  }
}

export default defineConfig({
  test: {
    sequence: { sequencer: LongestFirst },
    // The machine is the tests' own: by itself the runner leaves one processor free, half of a small machine.
    maxWorkers: '100%',
    projects: [
      {
        test: {
          name: 'unit',
          include: ['tests/**/*.test.ts'],
          exclude: [
            'tests/browser/**',
            'tests/package/**',
            'tests/notebooks/**',
            'tests/docs/site/**',
            'node_modules/**',
          ],
          env,
          testTimeout: 300_000,
          // The modules are loaded once for a worker, not again for each of some two hundred files: none of them keeps a state.
          isolate: false,
        },
      },
      {
        test: {
          name: 'package',
          include: ['tests/package/**/*.test.ts'],
          env,
          testTimeout: 300_000,
          hookTimeout: 300_000,
        },
      },
      {
        test: {
          name: 'docs',
          include: ['tests/docs/site/**/*.test.ts'],
          env,
          testTimeout: 300_000,
          hookTimeout: 300_000,
        },
      },
      {
        test: {
          name: 'notebooks',
          include: ['tests/notebooks/**/*.test.ts'],
          env,
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          env,
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
