import type { z } from 'zod';
import { type Scenario, scenarioSchema } from '../scenario.ts';
import { FAILING_SITE } from './failing-site.ts';
import { HEAVY_BILATERAL } from './heavy-bilateral.ts';
import { INFORMATIVE_DROP_OUT } from './informative-drop-out.ts';
import { NATIONAL_REGISTRY } from './national-registry.ts';
import { NO_EFFECT_OF_SEVERITY } from './no-effect-of-severity.ts';
import { ORDINARY_CLINIC } from './ordinary-clinic.ts';
import { SAMPLE_CLINIC, SAMPLE_CLINIC_WITH_PROBLEMS } from './sample-clinic.ts';
import { SKIN_CLUSTER } from './skin-cluster.ts';
import { STRONG_EFFECT } from './strong-effect.ts';
import { TINY_CLINIC } from './tiny-clinic.ts';

/** Settings of a scenario; what they leave out keeps its default. */
export type ScenarioSettings = z.input<typeof scenarioSchema>;

export const SCENARIOS: readonly ScenarioSettings[] = [
  ORDINARY_CLINIC,
  NO_EFFECT_OF_SEVERITY,
  STRONG_EFFECT,
  INFORMATIVE_DROP_OUT,
  HEAVY_BILATERAL,
  TINY_CLINIC,
  NATIONAL_REGISTRY,
  FAILING_SITE,
  SKIN_CLUSTER,
  SAMPLE_CLINIC,
  SAMPLE_CLINIC_WITH_PROBLEMS,
];

/**
 * The settings of a named scenario.
 * @throws RangeError naming the scenarios there are
 */
export function settingsOf(name: string): ScenarioSettings {
  const found = SCENARIOS.find(settings => settings.name === name);
  if (found) return found;
  const names = SCENARIOS.map(settings => settings.name).join(', ');
  throw new RangeError(`there is no scenario "${name}"; there are: ${names}`);
}

/** A named scenario in full. */
export function namedScenario(name: string): Scenario {
  return scenarioSchema.parse(settingsOf(name));
}
