import type { TableName } from '../../records.ts';

/** Words parted by commas. */
const words = (text: string): readonly string[] => text.split(', ');

/** Headers under which each field is met, in lower case without accents; the name of the field itself is another. */
export const FIELD_WORDS: Readonly<Record<TableName, Readonly<Record<string, readonly string[]>>>> = {
  episodes: {
    episode_id: words('episode, case, fall, episodio, cas, caso, episode no, casus'),
    infant_id: words('infant, baby, child, patient, kind, enfant, nino, bambino, patient id, kindnummer'),
    site_id: words('site, clinic, standort, klinik, centre, sede, centro, locatie'),
    clinician_id: words('clinician, therapist, therapeut, therapeute, terapeuta, behandler'),
    foot: words('foot, side, fuss, seite, pied, cote, pie, lado, piede, lato, voet, zijde'),
    sex: words('sex, gender, geschlecht, sexe, sexo, sesso, geslacht'),
    age_at_start_days: words(
      'age days, edad dias, age jours, age weeks, age at start weeks, alter in wochen, edad semanas, age at start, alter in tagen, age en jours, edad en dias, leeftijd in dagen',
    ),
    birth_date: words(
      'dob, born, birth, date of birth, geburtsdatum, date de naissance, fecha de nacimiento, geboortedatum',
    ),
    gestational_weeks: words(
      'gestation, weeks of pregnancy, schwangerschaftswochen, semaines, semanas de gestacion',
    ),
    referral_date: words('referred, referral, uberweisung am, adresse le, derivado, verwezen op'),
    start_date: words(
      'fitted, fit, start, first fitting, therapiebeginn, beginn, debut, inicio, inizio, startdatum',
    ),
    end_date: words('ended, end, therapieende, ende, fin, fine, einddatum'),
    end_reason: words('why, reason, end reason, grund des endes, motif, motivo, reden'),
    teach_back: words('parents taught, teach back, eltern legen an'),
    baseline_photo: words('photo, foto, baseline photo'),
    ankle_opened: words('ankle opened, knochel geoffnet'),
    toe_relieved: words('toe relieved, zeh entlastet'),
  },
  assessments: {
    episode_id: words('episode, case, fall, episodio, cas, caso, casus'),
    date: words('day, date, on, visit date, datum, am, fecha, data'),
    assessor_id: words('by, assessor, examiner, untersucher, examinateur, evaluador, onderzoeker'),
    kind: words('kind, type, visit, anlass, tipo, soort'),
    bisector_position: words(
      'bisector, heel bisector, line, heel line, linea, fersenlinie, bissectrice, bisectriz, hiellijn',
    ),
    bisector_angle_degrees: words('angle, winkel in grad, winkel, angulo, angolo, hoek'),
    flexibility: words(
      'flexibility, flex, bend, bends, beweglichkeit, souplesse, flexibilidad, flessibilita, flexibiliteit',
    ),
    medial_crease: words('crease, medial crease, falte, pli, pliegue, piega, plooi'),
    decision: words('decision, next, then, entscheidung, decision prise, decisione, besluit'),
  },
  phases: {
    episode_id: words('episode, case, fall, episodio, cas, caso, casus'),
    start_date: words('from, start, von, du, desde, dal, van'),
    end_date: words('to, until, end, bis, au, hasta, al, tot'),
    prescribed_hours: words(
      'hours, h, h day, minutes, prescribed, horas prescritas, stunden verordnet, heures prescrites, horas, ore, uren',
    ),
  },
  wear: {
    episode_id: words('episode, case, fall, episodio, cas, caso, casus'),
    date: words('day, date, datum, fecha, data'),
    source: words('source, from, quelle, fuente, fonte, bron'),
    hours_worn: words(
      'worn, hours, minutes, hours worn, uso, stunden getragen, heures portees, horas, ore, gedragen uren',
    ),
  },
  events: {
    episode_id: words('episode, case, fall, episodio, cas, caso, casus'),
    date: words('day, date, on, datum, am, fecha, data'),
    kind: words('what, event, kind, ereignis, evenement, evento, gebeurtenis'),
    hours_off: words('hours off, h off, off, stunden ohne, heures sans, horas sin'),
    review_date: words('reviewed, review, seen, nachschau am, revu le, revisado, gezien op'),
    cause: words('cause, why, ursache, causa, oorzaak'),
  },
};

/** Words in the headers of columns that repeat, by which their table is known. */
export const GROUP_WORDS: Readonly<Record<TableName, readonly string[]>> = {
  episodes: [],
  assessments: words(
    'visit, visits, v, checkup, check, review, exam, examination, assessment, besuch, termin, kontrolle, untersuchung, ' +
      'visite, controle, visita, revision, controllo, bezoek',
  ),
  phases: words('phase, stage, step, period, prescription, stufe, periode, fase, etape, prescripcion'),
  wear: words('sensor, diary, recall, worn, wear, logger, tagebuch, capteur, journal, diario, dagboek, uso'),
  events: words('event, skin, complication, incident, ereignis, haut, evenement, evento, huid, incidencia'),
};
