export { infantsOf, generateLines } from './generate.ts';
export { type Scenario, scenarioSchema } from './scenario.ts';
export { scenarioFrom, scenarioFromText, scenarioText } from './scenario-text.ts';
export { namedScenario, SCENARIOS, settingsOf } from './scenarios/index.ts';
export { type Truth, truthOf } from './truth.ts';
