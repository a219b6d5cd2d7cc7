import type { RandomStream } from './random.ts';

/** The items in random order (Fisher and Yates); the same stream gives the same order. */
export function shuffled<T>(items: readonly T[], random: RandomStream): T[] {
  const order = [...items];
  for (let i = order.length - 1; i > 0; i--) {
    const j = random.below(i + 1);
    const held = order[i] as T;
    order[i] = order[j] as T;
    order[j] = held;
  }
  return order;
}
