export type { SpellData } from './spells.ts';
export {
  type MeanTimeInState,
  type StateOccupancy,
  type StateOccupancyOptions,
  stateOccupancy,
} from './state-occupancy.ts';
