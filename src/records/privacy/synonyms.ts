/** Words parted by commas. */
const words = (text: string): readonly string[] => text.split(', ');

/**
 * Ways in which the words of the dictionary are written in exports, in lower case without accents or punctuation:
 * English, German, French, Spanish, Italian, Dutch and Swedish. A word that has several meanings stands under none.
 */
export const SYNONYMS: Readonly<Record<string, readonly string[]>> = {
  yes: words('y, yes, true, ja, j, oui, o, si, s, sim, x, present, done, taken'),
  no: words('n, no, false, nein, non, nee, nej, nao, absent, not done, not taken'),
  left: words(
    'l, lt, left, left foot, links, li, gauche, g, izquierdo, izquierda, izq, sinistro, sx, vanster',
  ),
  right: words(
    'r, rt, right, right foot, rechts, re, droit, droite, d, derecho, derecha, der, destro, dx, hoger',
  ),
  female: words(
    'f, female, girl, w, weiblich, madchen, feminin, fille, femenino, nina, femmina, vrouw, meisje, kvinna',
  ),
  male: words('m, male, boy, mannlich, junge, masculin, garcon, masculino, nino, maschio, man, jongen'),
  'not recorded': words('not recorded, u, unknown, unbekannt, inconnu, desconocido, onbekend'),
  finished: words(
    'finished, completed, complete, abgeschlossen, beendet, termine, terminado, finalizado, finito, afgerond, avslutad',
  ),
  'referred for casting': words('referred for casting, casting, cast, gips, platre, yeso, gesso'),
  'referred for surgery': words(
    'referred for surgery, surgery, operation, chirurgie, cirugia, chirurgia, operatie',
  ),
  withdrawn: words(
    'withdrawn, stopped by parents, abgebrochen, abbruch, abandon, abandono, ritirato, gestopt',
  ),
  'moved away': words('moved away, moved, umgezogen, umzug, demenage, mudanza, trasferito, verhuisd'),
  'lost to follow-up': words(
    'lost to follow up, lost, dna, nicht erschienen, perdu de vue, perdido, perso al follow up, uit beeld',
  ),
  baseline: words(
    'baseline, initial, first visit, erstuntersuchung, erstvorstellung, initiale, inicial, basal, iniziale, intake',
  ),
  checkup: words('checkup, check up, review, control, kontrolle, controle, revision, controllo, kontroll'),
  unscheduled: words(
    'unscheduled, extra, ausserplanmassig, ungeplant, non programmee, no programada, ongepland',
  ),
  discharge: words('discharge, entlassung, abschluss, sortie, alta, dimissione, ontslag'),
  'follow-up': words('follow up, nachsorge, suivi, seguimiento, nacontrole'),
  'past straight': words('past straight, flexible, flexibel, souple, flessibile, uber gerade, uber neutral'),
  'to straight': words(
    'to straight, partly flexible, semi flexible, teilflexibel, bis gerade, bis neutral, semiflexible',
  ),
  'short of straight': words('short of straight, rigid, rigide, rigido, starr, unter gerade, rigide pied'),
  start: words('start, beginn, debut, inicio, inizio'),
  continue: words('continue, go on, weiter, continuer, continuar, continua, doorgaan'),
  'step down': words('step down, reduce, reduzieren, reduire, reducir, ridurre, afbouwen'),
  'return to full time': words(
    'return to full time, full time again, zuruck auf vollzeit, retour plein temps',
  ),
  finish: words('finish, stop, ende, beenden, arreter, terminar, stoppen'),
  refer: words('refer, uberweisen, adresser, derivar, verwijzen'),
  sensor: words('sensor, logger, capteur, sensore'),
  diary: words('diary, tagebuch, journal, diario, dagboek, dagbok'),
  recall: words('recall, told, erinnerung, befragung, rappel, recuerdo, ricordo, navraag'),
  'slight redness': words(
    'slight redness, mild redness, leichte rotung, rougeur legere, enrojecimiento leve, lichte roodheid',
  ),
  'strong redness': words(
    'strong redness, severe redness, starke rotung, rougeur forte, enrojecimiento fuerte, sterke roodheid',
  ),
  blister: words('blister, blase, ampoule, ampolla, vescica, blaar'),
  'pressure sore': words('pressure sore, pressure ulcer, druckstelle, escarre, ulcera, drukplek'),
  'brace pulled off': words('brace pulled off, pulled off, abgezogen, retiree, quitada'),
  'unplanned pause': words('unplanned pause, pause, pausa, ungeplante pause, onderbreking'),
  'strap too tight': words(
    'strap too tight, tight strap, riemen zu eng, sangle trop serree, correa apretada',
  ),
  'poor fit': words('poor fit, badly fitted, schlechter sitz, mauvais ajustement, mal ajuste'),
  'sock fold': words('sock fold, sockenfalte, pli de chaussette, pliegue del calcetin'),
  'not known': words('not known, unknown, unbekannt, inconnu, desconocido, onbekend'),
};
