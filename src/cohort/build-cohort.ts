import type { Plan } from '../plan/plan.ts';
import { assessmentRows, episodeRows, eventRows, phaseRows, wearColumns } from '../records/accessors.ts';
import type { ExportRecords } from '../records/records.ts';
import type { AssessmentRow, EpisodeRow } from '../records/rows.ts';
import { groupWear } from './adherence-days.ts';
import { buildFoot } from './build-foot.ts';
import type { Cohort, Foot } from './cohort.ts';
import { compareCodes, groupByEpisode } from './group-by-episode.ts';
import { oneFootPerInfant } from './one-foot-per-infant.ts';
import { pairedAssessments } from './paired-assessments.ts';
import { participantFlow } from './participant-flow.ts';
import { stepDownsOf } from './relapse.ts';

/**
 * Every accepted episode by the definitions of the plan (docs/definitions.md), by episode code; step-downs by episode
 * code, then day. Takes time in proportion to the rows, and does not depend on their order.
 *
 * @throws RangeError if the plan's care hours leave no expected hours in full time
 */
export function buildCohort(records: ExportRecords, plan: Plan): Cohort {
  const { careHours, fullTimeHours } = plan.adherence;
  if (careHours >= fullTimeHours) {
    throw new RangeError(
      `plan: adherence.careHours is ${careHours}; it must be less than adherence.fullTimeHours (${fullTimeHours})`,
    );
  }
  const assessments = groupByEpisode(assessmentRows(records));
  const accepted = acceptedFeet(records, assessments, plan);
  const feet = plan.feet.use === 'one per infant' ? oneFootPerInfant(accepted) : accepted;
  const stepDowns = feet.flatMap(foot => stepDownsOf(foot, plan, records.cutOff));
  return {
    service: records.service,
    cutOff: records.cutOff,
    feet,
    stepDowns,
    pairedAssessments: feet.flatMap(foot => pairedAssessments(assessments.get(foot.episode) ?? [], foot)),
    flow: participantFlow(records, accepted, feet, stepDowns),
  };
}

function acceptedFeet(
  records: ExportRecords,
  assessments: ReadonlyMap<string, readonly AssessmentRow[]>,
  plan: Plan,
): readonly Foot[] {
  const episodes = [...episodeRows(records)].sort((a, b) => compareCodes(a.episode_id, b.episode_id));
  const phases = groupByEpisode(phaseRows(records));
  const events = groupByEpisode(eventRows(records));
  const wear = groupWear(
    wearColumns(records),
    episodes.map(episode => episode.episode_id),
  );
  const bilateral = bilateralInfants(episodes);
  return episodes.map((episode, place) => {
    const id = episode.episode_id;
    const rows = {
      episode,
      assessments: assessments.get(id) ?? [],
      phases: phases.get(id) ?? [],
      events: events.get(id) ?? [],
      wear,
      place,
    };
    const context = { cutOff: records.cutOff, bilateral: bilateral.has(episode.infant_id) };
    return buildFoot(rows, context, plan);
  });
}

/** Infants with both a left and a right foot among the accepted episodes. */
function bilateralInfants(episodes: readonly EpisodeRow[]): ReadonlySet<string> {
  const left = new Set<string>();
  const right = new Set<string>();
  for (const { foot, infant_id } of episodes) (foot === 'left' ? left : right).add(infant_id);
  return new Set([...left].filter(infant => right.has(infant)));
}
