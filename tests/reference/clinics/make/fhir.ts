import type { Row } from './canonical.ts';
import { canonicalRows, cell } from './canonical.ts';

type Json = Readonly<Record<string, unknown>>;

/** One file of FHIR R4 resources, one a line, of all kinds mixed. */
export function fhir(): Readonly<Record<string, string>> {
  const resources = [
    ...canonicalRows('events').map(adverseEvent),
    ...canonicalRows('wear').map(deviceUse),
    { resourceType: 'Organization', id: 'tarnholm' },
    ...canonicalRows('phases').map(carePlan),
    ...canonicalRows('assessments').map(observation),
    ...canonicalRows('episodes').map(episodeOfCare),
  ];
  return { 'export.ndjson': resources.map(resource => `${JSON.stringify(resource)}\n`).join('') };
}

const reference = (type: string, id: string): Json | undefined =>
  id === '' ? undefined : { reference: `${type}/${id}` };
const coded = (code: string): Json => ({ coding: [{ system: 'urn:forefoot', code }] });
const extension = (name: string, kind: string, value: unknown): readonly Json[] =>
  value === '' || value === undefined ? [] : [{ url: `urn:forefoot:${name}`, [kind]: value }];
const number = (text: string): number | '' => (text === '' ? '' : Number(text));
const answer = (text: string): boolean | '' => (text === '' ? '' : text === 'yes');
const ofEpisode = (row: Row): readonly Json[] =>
  extension('episode', 'valueReference', reference('EpisodeOfCare', cell(row, 'episode_id')));
const period = (row: Row): Json => ({
  start: cell(row, 'start_date'),
  ...(cell(row, 'end_date') === '' ? {} : { end: cell(row, 'end_date') }),
});

function episodeOfCare(row: Row): Json {
  return {
    resourceType: 'EpisodeOfCare',
    id: cell(row, 'episode_id'),
    status: cell(row, 'end_date') === '' ? 'active' : 'finished',
    patient: reference('Patient', cell(row, 'infant_id')),
    managingOrganization: reference('Organization', cell(row, 'site_id')),
    careManager: reference('Practitioner', cell(row, 'clinician_id')),
    period: period(row),
    extension: [
      ...extension('foot', 'valueCode', cell(row, 'foot')),
      ...extension('sex', 'valueCode', cell(row, 'sex')),
      ...extension('age-at-start-days', 'valueInteger', number(cell(row, 'age_at_start_days'))),
      ...extension('gestational-weeks', 'valueInteger', number(cell(row, 'gestational_weeks'))),
      ...extension('referral-date', 'valueDate', cell(row, 'referral_date')),
      ...extension('end-reason', 'valueCode', cell(row, 'end_reason')),
      ...extension('teach-back', 'valueBoolean', answer(cell(row, 'teach_back'))),
      ...extension('baseline-photo', 'valueBoolean', answer(cell(row, 'baseline_photo'))),
      ...extension('ankle-opened', 'valueBoolean', answer(cell(row, 'ankle_opened'))),
      ...extension('toe-relieved', 'valueBoolean', answer(cell(row, 'toe_relieved'))),
    ],
  };
}

function observation(row: Row): Json {
  const component = (code: string, kind: string, value: unknown): readonly Json[] =>
    value === '' || value === undefined ? [] : [{ code: coded(code), [kind]: value }];
  const quantity = (field: string): Json | undefined =>
    cell(row, field) === '' ? undefined : { value: Number(cell(row, field)) };
  const concept = (field: string): Json | undefined =>
    cell(row, field) === '' ? undefined : coded(cell(row, field));
  const by = reference('Practitioner', cell(row, 'assessor_id'));
  return {
    resourceType: 'Observation',
    status: 'final',
    code: coded('foot-assessment'),
    effectiveDateTime: cell(row, 'date'),
    ...(by === undefined ? {} : { performer: [by] }),
    extension: ofEpisode(row),
    component: [
      ...component('kind', 'valueCodeableConcept', concept('kind')),
      ...component('bisector-position', 'valueQuantity', quantity('bisector_position')),
      ...component('bisector-angle', 'valueQuantity', quantity('bisector_angle_degrees')),
      ...component('flexibility', 'valueCodeableConcept', concept('flexibility')),
      ...component('medial-crease', 'valueBoolean', answer(cell(row, 'medial_crease'))),
      ...component('decision', 'valueCodeableConcept', concept('decision')),
    ],
  };
}

function carePlan(row: Row): Json {
  const dailyAmount = { value: Number(cell(row, 'prescribed_hours')), unit: 'h' };
  return {
    resourceType: 'CarePlan',
    status: 'active',
    intent: 'order',
    period: period(row),
    extension: ofEpisode(row),
    activity: [{ detail: { status: 'in-progress', dailyAmount } }],
  };
}

function deviceUse(row: Row): Json {
  return {
    resourceType: 'DeviceUseStatement',
    status: 'completed',
    timingDateTime: cell(row, 'date'),
    extension: [
      ...ofEpisode(row),
      ...extension('source', 'valueCode', cell(row, 'source')),
      ...extension('hours-worn', 'valueDecimal', Number(cell(row, 'hours_worn'))),
    ],
  };
}

function adverseEvent(row: Row): Json {
  return {
    resourceType: 'AdverseEvent',
    actuality: 'actual',
    event: coded(cell(row, 'kind')),
    date: cell(row, 'date'),
    extension: [
      ...ofEpisode(row),
      ...extension('hours-off', 'valueDecimal', number(cell(row, 'hours_off'))),
      ...extension('review-date', 'valueDate', cell(row, 'review_date')),
      ...extension('cause', 'valueCode', cell(row, 'cause')),
    ],
  };
}
