import * as z from 'zod';

/** Why a parameter has the default it has. */
export const INVENTED = 'invented';

const described = (text: string, source: string) => ({ description: text, source });

/** A number with bounds, a default, what it does and where the default comes from. */
export const number = (low: number, high: number, fallback: number, text: string, source = INVENTED) =>
  z.number().min(low).max(high).default(fallback).meta(described(text, source));

export const whole = (low: number, high: number, fallback: number, text: string, source = INVENTED) =>
  z.int().min(low).max(high).default(fallback).meta(described(text, source));

/** A probability or a share. */
export const share = (fallback: number, text: string, source = INVENTED) =>
  number(0, 1, fallback, text, source);

export const yesNo = (fallback: boolean, text: string, source = INVENTED) =>
  z.boolean().default(fallback).meta(described(text, source));

export const words = (fallback: string, text: string) =>
  z.string().min(1).default(fallback).meta(described(text, INVENTED));

export const date = (fallback: string, text: string) =>
  z.iso.date().default(fallback).meta(described(text, INVENTED));

/** The same number for each phase of prescribed hours. */
export const byPhase = (
  fallback: { fullTime: number; longOvernight: number; overnight: number },
  low: number,
  high: number,
  text: string,
  source = INVENTED,
) =>
  z
    .strictObject({
      fullTime: z.number().min(low).max(high).default(fallback.fullTime),
      longOvernight: z.number().min(low).max(high).default(fallback.longOvernight),
      overnight: z.number().min(low).max(high).default(fallback.overnight),
    })
    .prefault({})
    .meta(described(text, source));
