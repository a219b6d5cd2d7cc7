// All statistics together, for checks that every one of them must pass.
export * from '../../src/statistics/further.ts';
export * from '../../src/statistics/index.ts';
