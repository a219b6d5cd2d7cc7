import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**', 'node_modules/**'],
    // A zone far from UTC: a calendar date that passes through a zoned clock would shift by a day and fail.
    env: { TZ: 'Pacific/Kiritimati' },
    testTimeout: 60_000,
  },
});
