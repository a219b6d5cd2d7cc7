import type { Identifying } from './header-words.ts';

const E_MAIL = /[^\s@]+@[^\s@]+\.[^\s@]+/;
const DATE = /^\d{1,4}[-./]\d{1,2}[-./]\d{1,4}([T ]\d{1,2}:\d{2}.*)?$/;
const PHONE = /^(\+|00)?[\d\s()./-]+$/;
const POSTCODE = /\b[A-Z]{1,2}\d[A-Z\d]?\s*\d[A-Z]{2}\b/;
const STREET =
  /\b\d{1,5}[a-z]?,?\s+\p{L}{3,}|\p{L}{3,}\.?\s+\d{1,5}[a-z]?\b.*\p{L}|(str(\.|asse|aße)|straat|gatan?|vej)\s*\d/iu;
const LETTERED_NUMBER = /^[A-Z]{1,6}[\s._-]?\d{2,}[A-Z0-9\s._-]{3,}$/i;
/** A code that `forefoot pseudonymise` made. */
const KEYED_HASH = /^[a-z]-[0-9a-f]{20}$/;
const NAME = /^(\p{Lu}[\p{L}'’.-]*\s*,?\s+)+\p{Lu}[\p{L}'’.-]*$/u;
/** A first name alone or with an initial: `Juno`, `JunoE`, `Juno E.`; a code has digits, or is in one case. */
const FIRST_NAME = /^\p{Lu}\p{Ll}{2,}(?:[ .-]?\p{Lu}\.?)?$/u;
const LONGEST_LOOKED_AT = 200;
const LONGEST_LABEL = 40;
const WORDS_OF_A_SENTENCE = 5;

/**
 * What a value gives away by its looks, or undefined. Digits in a row are told apart by their number: from nine on they
 * are taken for the number of a health service, from seven on for a phone number; dates are not.
 */
export function identifyingValue(value: string): Identifying | undefined {
  // Longer than this it is a text whatever it says, and some patterns would take long to find that out.
  if (value.length > LONGEST_LOOKED_AT) return 'free text';
  const text = value.trim();
  if (text.length < 5 || DATE.test(text) || KEYED_HASH.test(text)) return undefined;
  if (E_MAIL.test(text)) return 'e-mail address';
  const digits = text.replace(/\D/g, '').length;
  if (PHONE.test(text) && digits >= 7) {
    return /[+()]/.test(text) || text.startsWith('0') || digits < 9
      ? 'phone number'
      : 'health-service number';
  }
  if (digits >= 7 && LETTERED_NUMBER.test(text)) return 'health-service number';
  if (POSTCODE.test(text) || STREET.test(text)) return 'address';
  if (text.length > LONGEST_LABEL || text.split(/\s+/).length >= WORDS_OF_A_SENTENCE) return 'free text';
  if (NAME.test(text)) return 'name';
  return undefined;
}

/** As `identifyingValue`, for the codes of persons, among which a word that begins with a capital is a first name. */
export function identifyingCode(value: string): Identifying | undefined {
  return FIRST_NAME.test(value.trim()) ? 'name' : identifyingValue(value);
}
