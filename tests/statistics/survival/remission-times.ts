/**
 * Weeks of remission in 21 pairs of children with acute leukaemia: Freireich et al., Blood 1963;21:699-716.
 */
export const sixMercaptopurine = Object.freeze({
  time: Object.freeze([10, 7, 32, 23, 22, 6, 16, 34, 32, 25, 11, 20, 19, 6, 17, 35, 6, 13, 9, 6, 10]),
  event: Object.freeze([1, 1, 0, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 0]),
});

const weeks = [1, 22, 3, 12, 8, 17, 2, 11, 8, 12, 2, 5, 4, 15, 8, 23, 5, 11, 4, 1, 8];

export const placebo = Object.freeze({
  time: Object.freeze(weeks),
  event: Object.freeze(weeks.map(() => 1)),
});
