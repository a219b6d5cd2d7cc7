import type { AddCommand } from '../command.ts';
import { addAnalyse } from './analyse.ts';
import { addCheck } from './check.ts';
import { addCounsel } from './counsel.ts';
import { addDictionary } from './dictionary.ts';
import { addFrames } from './frames.ts';
import { addMap } from './map.ts';
import { addPseudonymise } from './pseudonymise.ts';
import { addReport } from './report.ts';
import { addSimulate } from './simulate.ts';
import { addVerify } from './verify.ts';
import { addWhy } from './why.ts';

/** Every command, in the order of the help. */
export const COMMANDS: readonly AddCommand[] = [
  addCheck,
  addMap,
  addPseudonymise,
  addReport,
  addAnalyse,
  addFrames,
  addCounsel,
  addVerify,
  addWhy,
  addDictionary,
  addSimulate,
];
