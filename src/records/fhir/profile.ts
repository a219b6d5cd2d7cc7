import type { TableName } from '../records.ts';
import { DICTIONARY } from '../dictionary.ts';
import { at, codeOf, extension, reference, scalar } from './elements.ts';

/** Where a field of the dictionary stands in a resource. */
type Element = (resource: unknown) => string;

/** The resource that holds the rows of a table, and where each field stands in it. */
export interface ResourceProfile {
  readonly resourceType: string;
  readonly elements: Readonly<Record<string, Element>>;
}

/** Extensions and codes of the profile begin with this. */
export const NAMESPACE = 'urn:forefoot:';

const episodeOf: Element = extension('episode');

const component =
  (code: string): Element =>
  resource => {
    const components = at(resource, 'component');
    const found = Array.isArray(components)
      ? components.find(one => codeOf(at(one, 'code')) === code)
      : undefined;
    return (
      scalar(at(found, 'valueQuantity', 'value')) ||
      codeOf(at(found, 'valueCodeableConcept')) ||
      scalar(at(found, 'valueBoolean'))
    );
  };

/** The profile of FHIR R4 in which an export may come, described in docs/mapping.md. */
export const PROFILE: Readonly<Record<TableName, ResourceProfile>> = {
  episodes: {
    resourceType: 'EpisodeOfCare',
    elements: {
      episode_id: resource => scalar(at(resource, 'id')),
      infant_id: resource => reference(at(resource, 'patient')),
      site_id: resource => reference(at(resource, 'managingOrganization')),
      clinician_id: resource => reference(at(resource, 'careManager')),
      start_date: resource => scalar(at(resource, 'period', 'start')),
      end_date: resource => scalar(at(resource, 'period', 'end')),
      ...extensions(
        'foot sex age_at_start_days birth_date gestational_weeks referral_date',
        'end_reason teach_back baseline_photo ankle_opened toe_relieved',
      ),
    },
  },
  assessments: {
    resourceType: 'Observation',
    elements: {
      episode_id: episodeOf,
      date: resource => scalar(at(resource, 'effectiveDateTime')),
      assessor_id: resource => reference(at(resource, 'performer', 0)),
      kind: component('kind'),
      bisector_position: component('bisector-position'),
      bisector_angle_degrees: component('bisector-angle'),
      flexibility: component('flexibility'),
      medial_crease: component('medial-crease'),
      decision: component('decision'),
    },
  },
  phases: {
    resourceType: 'CarePlan',
    elements: {
      episode_id: episodeOf,
      start_date: resource => scalar(at(resource, 'period', 'start')),
      end_date: resource => scalar(at(resource, 'period', 'end')),
      prescribed_hours: resource => scalar(at(resource, 'activity', 0, 'detail', 'dailyAmount', 'value')),
    },
  },
  wear: {
    resourceType: 'DeviceUseStatement',
    elements: {
      episode_id: episodeOf,
      date: resource => scalar(at(resource, 'timingDateTime')),
      ...extensions('source hours_worn'),
    },
  },
  events: {
    resourceType: 'AdverseEvent',
    elements: {
      episode_id: episodeOf,
      date: resource => scalar(at(resource, 'date')),
      kind: resource => codeOf(at(resource, 'event')),
      ...extensions('hours_off review_date cause'),
    },
  },
};

/** Fields, parted by blanks, that stand in extensions of their name. */
function extensions(...lines: readonly string[]): Readonly<Record<string, Element>> {
  const fields = lines.flatMap(line => line.split(' '));
  return Object.fromEntries(fields.map(field => [field, extension(field.replaceAll('_', '-'))]));
}

/** The fields of a table as the header of its rows. */
export function headerOf(table: TableName): readonly string[] {
  return DICTIONARY[table].fields.map(field => field.name);
}

/** The row that a resource holds, a text for each field of the table; undefined if it is a resource of another kind. */
export function rowOf(table: TableName, resource: unknown): readonly string[] | undefined {
  const { resourceType, elements } = PROFILE[table];
  if (at(resource, 'resourceType') !== resourceType) return undefined;
  return headerOf(table).map(field => elements[field]?.(resource) ?? '');
}
