const header = 'episode_id,infant_id,site_id,foot,age_at_start_days,start_date,end_date,end_reason';

/** An export without a flaw: two episodes, with a service and a cut-off. */
export const CLEAN = {
  'episodes.csv': `${header}\nE1,I1,North,left,60,2025-02-10,2025-06-01,finished\nE2,I2,South,right,80,2025-03-01,,\n`,
  'assessments.csv':
    'episode_id,date,kind,bisector_position\nE1,2025-02-10,baseline,4\nE1,2025-02-24,checkup,3\n',
  'phases.csv': 'episode_id,start_date,prescribed_hours\nE1,2025-02-10,24\nE2,2025-03-01,24\n',
  'wear.csv': 'episode_id,date,source,hours_worn\nE1,2025-02-12,diary,22\nE2,2025-03-04,sensor,18.5\n',
  'events.csv': 'episode_id,date,kind\nE1,2025-02-13,slight redness\n',
  'export.yaml': 'service: Invented Clinic\ncut_off: 2025-06-30\n',
} as const;
