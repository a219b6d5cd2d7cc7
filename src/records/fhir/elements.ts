// Reading single elements of a FHIR resource. What is not there, or not of the kind asked for, is a blank.

/** What stands at the end of a path of names and places. */
export function at(resource: unknown, ...path: readonly (string | number)[]): unknown {
  let value = resource;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Readonly<Record<string | number, unknown>>)[step];
  }
  return value;
}

/** A text, number or boolean as text; true and false are yes and no. */
export function scalar(value: unknown): string {
  if (typeof value === 'string') return value;
  if (typeof value === 'number') return String(value);
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return '';
}

/** The id in a reference such as `Patient/I1`. */
export function reference(value: unknown): string {
  const text = scalar(at(value, 'reference'));
  return text.slice(text.lastIndexOf('/') + 1);
}

/** The first code of a CodeableConcept. */
export function codeOf(concept: unknown): string {
  return scalar(at(concept, 'coding', 0, 'code'));
}

const VALUES = [
  'valueCode',
  'valueString',
  'valueDate',
  'valueInteger',
  'valueDecimal',
  'valueBoolean',
] as const;

/** The value of an extension `urn:forefoot:NAME`. */
export function extension(name: string): (resource: unknown) => string {
  const url = `urn:forefoot:${name}`;
  return resource => {
    const extensions = at(resource, 'extension');
    const found: unknown = Array.isArray(extensions)
      ? extensions.find(candidate => at(candidate, 'url') === url)
      : undefined;
    for (const kind of VALUES) {
      const value = scalar(at(found, kind));
      if (value !== '') return value;
    }
    return reference(at(found, 'valueReference'));
  };
}
