import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parse } from 'yaml';
import type { FindingsInput, ReportDocument } from '../reports/index.ts';
import { type KnownTruth, knownTruth, withTruth } from '../reports/teaching/index.ts';
import { UserError } from './command.ts';
import type { PublishedKind } from './publish-outcomes.ts';

type MakeReport = (input: FindingsInput) => ReportDocument | Promise<ReportDocument>;

/** A report as it is, or with the truth of the file beside it and under a kind of its own: it is for teaching. */
export function taughtBy(
  truth: string | undefined,
  folder: string,
  kind: PublishedKind,
  report: (input: FindingsInput) => ReportDocument,
): { readonly kind: PublishedKind; readonly report: MakeReport } {
  if (truth === undefined) return { kind, report };
  return {
    kind: {
      ...kind,
      kind: kind.kind === 'cohort' ? 'teaching' : `teaching-${kind.kind}`,
      title: `${kind.title} beside the truth`,
    },
    report: input => besideTruth(report(input), input, folder, truth),
  };
}

/**
 * The report with the truth of a simulated export beside its estimates. Only an export that carries the scenario it was
 * simulated from has a truth, and only that of its own scenario and size is taken.
 *
 * @throws UserError for an export that was not simulated, or a truth that is not its own
 */
async function besideTruth(
  document: ReportDocument,
  input: FindingsInput,
  folder: string,
  path: string,
): Promise<ReportDocument> {
  const scenario = await scenarioName(folder);
  const truth = await readTruth(path);
  if (truth.scenario !== scenario) {
    throw new UserError(
      `the truth ${path} is that of the scenario ${truth.scenario}, and ${folder} was simulated from ${scenario}`,
    );
  }
  const feet = input.provenance.files.find(({ file }) => file === 'episodes.csv')?.read ?? 0;
  if (truth.feetInExport !== feet) {
    throw new UserError(
      `the truth ${path} goes with an export of ${truth.feetInExport} feet, and ${folder} has ${feet}`,
    );
  }
  return withTruth(document, input, truth);
}

async function scenarioName(folder: string): Promise<string> {
  const refuse = (cause: unknown): never => {
    throw new UserError(
      `${folder} holds no scenario.yaml, so it was not simulated and its truth is not known; leave out --truth`,
      { cause },
    );
  };
  const text = await readFile(join(folder, 'scenario.yaml'), 'utf8').catch(refuse);
  try {
    const scenario: unknown = parse(text);
    if (typeof scenario === 'object' && scenario !== null && 'name' in scenario) return String(scenario.name);
  } catch (error) {
    return refuse(error);
  }
  return refuse(undefined);
}

async function readTruth(path: string): Promise<KnownTruth> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    const reason = error instanceof Error && 'code' in error ? String(error.code) : 'unknown reason';
    throw new UserError(
      `the truth ${path} cannot be read (${reason}); allowed: the truth.json of a simulation`,
    );
  });
  try {
    return knownTruth(text);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new UserError(`the truth ${path} is no truth.json of a simulation: ${error.message}`, {
      cause: error,
    });
  }
}
