/** The lines that every example of the reference may rely on, as the reference prints them. */
export const EXAMPLE_DATA = `const time = [42, 56, 56, 70, 84, 91, 98, 112];
const event = [1, 1, 0, 1, 1, 0, 1, 0];
const cause = [1, 1, 0, 2, 1, 0, 1, 2];
const group = ['mild', 'severe', 'mild', 'mild', 'severe', 'severe', 'mild', 'severe'];
const infant = [1, 2, 1, 3, 4, 4, 5, 6];
const severe = [0, 1, 0, 0, 1, 1, 0, 1];
const lower = [0, 28, 28, 42, 56];
const upper = [42, 56, 84, Infinity, 70];
const curve = kaplanMeier({ time, event });
const incidence = cumulativeIncidence({ time, cause }).causes[0];
const intervals = turnbull({ lower, upper });
const model = coxModel({ time, event, covariates: { severe } });`;
