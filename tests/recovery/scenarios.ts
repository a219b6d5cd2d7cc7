import { namedScenario, type Scenario } from '../../src/synthetic/index.ts';

/** The scenarios of the study, the ordinary one first. */
export const STUDIED = [
  'ordinary-clinic',
  'no-effect-of-severity',
  'strong-effect',
  'informative-drop-out',
  'heavy-bilateral',
  'tiny-clinic',
  'failing-site',
  'skin-cluster',
] as const;

export type Studied = (typeof STUDIED)[number];

/** A scenario as it stands, without the truth file: the study makes its own. */
export function studiedScenario(name: string): Scenario {
  const scenario = namedScenario(name);
  return { ...scenario, truth: { ...scenario.truth, infants: 0 } };
}

/** Seeds of the exports of one scenario, apart from those of every other. */
export function seedOf(study: number, scenario: number, place: number): number {
  return study + 1_000_000 * (scenario + 1) + place;
}
