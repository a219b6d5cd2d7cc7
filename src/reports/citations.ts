// Works that reports cite, by the key that a finding gives in its methods. Only what is cited appears in a report.

const WORKS = {
  'kaplan-meier-1958':
    'Kaplan EL, Meier P. Nonparametric estimation from incomplete observations. J Am Stat Assoc 1958;53:457-481.',
  'greenwood-1926':
    'Greenwood M. The natural duration of cancer. Reports on Public Health and Medical Subjects 33. London: HMSO, 1926:1-26.',
  'aalen-johansen-1978':
    'Aalen OO, Johansen S. An empirical transition matrix for non-homogeneous Markov chains based on censored observations. Scand J Stat 1978;5:141-150.',
  'turnbull-1976':
    'Turnbull BW. The empirical distribution function with arbitrarily grouped, censored and truncated data. J R Stat Soc B 1976;38:290-295.',
  'sun-2001':
    'Sun J. Variance estimation of a survival function for interval-censored survival data. Stat Med 2001;20:1249-1257.',
  'field-welsh-2007': 'Field CA, Welsh AH. Bootstrapping clustered data. J R Stat Soc B 2007;69:369-390.',
  'lindsey-ryan-1998':
    'Lindsey JC, Ryan LM. Tutorial in biostatistics: methods for interval-censored data. Stat Med 1998;17:219-238.',
  'royston-parmar-2013':
    'Royston P, Parmar MKB. Restricted mean survival time: an alternative to the hazard ratio for the design and analysis of randomized trials with a time-to-event outcome. BMC Med Res Methodol 2013;13:152.',
  'efron-1977':
    'Efron B. The efficiency of Cox’s likelihood function for censored data. J Am Stat Assoc 1977;72:557-565.',
  'fine-gray-1999':
    'Fine JP, Gray RJ. A proportional hazards model for the subdistribution of a competing risk. J Am Stat Assoc 1999;94:496-509.',
  'cohen-1960': 'Cohen J. A coefficient of agreement for nominal scales. Educ Psychol Meas 1960;20:37-46.',
  'cohen-1968':
    'Cohen J. Weighted kappa: nominal scale agreement with provision for scaled disagreement or partial credit. Psychol Bull 1968;70:213-220.',
  'fleiss-1969':
    'Fleiss JL, Cohen J, Everitt BS. Large sample standard errors of kappa and weighted kappa. Psychol Bull 1969;72:323-327.',
  'gray-1988':
    'Gray RJ. A class of k-sample tests for comparing the cumulative incidence of a competing risk. Ann Stat 1988;16:1141-1154.',
  'mantel-1966':
    'Mantel N. Evaluation of survival data and two new rank order statistics arising in its consideration. Cancer Chemother Rep 1966;50:163-170.',
  'peto-1972':
    'Peto R, Peto J. Asymptotically efficient rank invariant test procedures. J R Stat Soc A 1972;135:185-207.',
  'tarone-1975': 'Tarone RE. Tests for trend in life table analysis. Biometrika 1975;62:679-682.',
  'brookmeyer-crowley-1982':
    'Brookmeyer R, Crowley J. A confidence interval for the median survival time. Biometrics 1982;38:29-41.',
  'schemper-smith-1996':
    'Schemper M, Smith TL. A note on quantifying follow-up in studies of failure time. Control Clin Trials 1996;17:343-346.',
  'cox-1972': 'Cox DR. Regression models and life-tables. J R Stat Soc B 1972;34:187-220.',
  'lin-wei-1989':
    'Lin DY, Wei LJ. The robust inference for the Cox proportional hazards model. J Am Stat Assoc 1989;84:1074-1078.',
  'ying-wei-1994':
    'Ying Z, Wei LJ. The Kaplan-Meier estimate for dependent failure time observations. J Multivar Anal 1994;50:17-29.',
  'wilson-1927':
    'Wilson EB. Probable inference, the law of succession, and statistical inference. J Am Stat Assoc 1927;22:209-212.',
  'clopper-pearson-1934':
    'Clopper CJ, Pearson ES. The use of confidence or fiducial limits illustrated in the case of the binomial. Biometrika 1934;26:404-413.',
  'breslow-day-1987':
    'Breslow NE, Day NE. Statistical methods in cancer research. Volume II: the design and analysis of cohort studies. Lyon: IARC, 1987.',
  'liang-zeger-1986':
    'Liang KY, Zeger SL. Longitudinal data analysis using generalized linear models. Biometrika 1986;73:13-22.',
  'lawless-nadeau-1995':
    'Lawless JF, Nadeau C. Some simple robust methods for the analysis of recurrent events. Technometrics 1995;37:158-168.',
  'firth-1993': 'Firth D. Bias reduction of maximum likelihood estimates. Biometrika 1993;80:27-38.',
  'datta-satten-2001':
    'Datta S, Satten GA. Validity of the Aalen-Johansen estimators of stage occupation probabilities and Nelson-Aalen estimators of integrated transition hazards for non-Markov models. Stat Probab Lett 2001;55:403-411.',
  'andersen-gill-1982':
    "Andersen PK, Gill RD. Cox's regression model for counting processes: a large sample study. Ann Stat 1982;10:1100-1120.",
  'bland-altman-2007':
    'Bland JM, Altman DG. Agreement between methods of measurement with multiple observations per individual. J Biopharm Stat 2007;17:571-582.',
  'davison-hinkley-1997':
    'Davison AC, Hinkley DV. Bootstrap methods and their application. Cambridge: Cambridge University Press, 1997.',
  'garwood-1936': 'Garwood F. Fiducial limits for the Poisson distribution. Biometrika 1936;28:437-442.',
  'newcombe-1998':
    'Newcombe RG. Interval estimation for the difference between independent proportions: comparison of eleven methods. Stat Med 1998;17:873-890.',
  'spiegelhalter-2005':
    'Spiegelhalter DJ. Funnel plots for comparing institutional performance. Stat Med 2005;24:1185-1202.',
  'lancaster-1961':
    'Lancaster HO. Significance tests in discrete distributions. J Am Stat Assoc 1961;56:223-234.',
  'montgomery-2013':
    'Montgomery DC. Introduction to Statistical Quality Control. 7th edition. Hoboken: Wiley, 2013.',
  'shewhart-1931':
    'Shewhart WA. Economic Control of Quality of Manufactured Product. New York: Van Nostrand, 1931.',
  'western-electric-1956':
    'Western Electric Company. Statistical Quality Control Handbook. Indianapolis: Western Electric, 1956.',
  'nelson-1984':
    'Nelson LS. The Shewhart control chart: tests for special causes. J Qual Technol 1984;16:237-239.',
  'perla-2011':
    'Perla RJ, Provost LP, Murray SK. The run chart: a simple analytical tool for learning from variation in healthcare processes. BMJ Qual Saf 2011;20:46-51.',
  'austin-2016':
    'Austin PC, Lee DS, Fine JP. Introduction to the analysis of survival data in the presence of competing risks. Circulation 2016;133:601-609.',
  'kmunicate-2019':
    'Morris TP, Jarvis CI, Cragg W, et al. Proposals on Kaplan-Meier plots in medical research and a survey of stakeholder views: KMunicate. BMJ Open 2019;9:e030215.',
  'strobe-2007':
    'von Elm E, Altman DG, Egger M, et al. The Strengthening the Reporting of Observational Studies in Epidemiology (STROBE) statement. PLoS Med 2007;4:e296.',
  'record-2015':
    'Benchimol EI, Smeeth L, Guttmann A, et al. The REporting of studies Conducted using Observational Routinely-collected health Data (RECORD) statement. PLoS Med 2015;12:e1001885.',
  'sampl-2015':
    'Lang TA, Altman DG. Basic statistical reporting for articles published in biomedical journals: the SAMPL guidelines. Int J Nurs Stud 2015;52:5-9.',
  'jonckheere-1954':
    'Jonckheere AR. A distribution-free k-sample test against ordered alternatives. Biometrika 1954;41:133-145.',
  'spearman-1904':
    'Spearman C. The proof and measurement of association between two things. Am J Psychol 1904;15:72-101.',
  'wei-1992':
    'Wei LJ. The accelerated failure time model: a useful alternative to the Cox regression model in survival analysis. Stat Med 1992;11:1871-1879.',
  'akaike-1974':
    'Akaike H. A new look at the statistical model identification. IEEE Trans Automat Contr 1974;19:716-723.',
  'grambsch-therneau-1994':
    'Grambsch PM, Therneau TM. Proportional hazards tests and diagnostics based on weighted residuals. Biometrika 1994;81:515-526.',
  'cox-snell-1968': 'Cox DR, Snell EJ. A general definition of residuals. J R Stat Soc B 1968;30:248-275.',
  'durrleman-simon-1989':
    'Durrleman S, Simon R. Flexible regression models with cubic splines. Stat Med 1989;8:551-561.',
  'rubin-1987': 'Rubin DB. Multiple imputation for nonresponse in surveys. New York: Wiley, 1987.',
  'white-royston-2009':
    'White IR, Royston P. Imputing missing covariate values for the Cox model. Stat Med 2009;28:1982-1998.',
  'little-1988': 'Little RJA. Missing-data adjustments in large surveys. J Bus Econ Stat 1988;6:287-296.',
  'schoenfeld-1983':
    'Schoenfeld DA. Sample-size formula for the proportional-hazards regression model. Biometrics 1983;39:499-503.',
  'metatarsus-1983':
    'Metatarsus adductus: classification and relationship to outcomes of treatment. J Pediatr Orthop 1983;3:2-9.',
  'okabe-ito-2008':
    'Okabe M, Ito K. Color Universal Design: how to make figures and presentations that are friendly to colorblind people. 2008.',
} as const;

export type CitationKey = keyof typeof WORKS;

/** Keys that a finding may cite. */
export const CITATION_KEYS = Object.keys(WORKS) as readonly CitationKey[];

/** The entry of a work in the list of references, ranges with an en dash.
 * @throws RangeError for a key that is not listed
 */
export function citedWork(key: string): string {
  const work = Object.entries(WORKS).find(([listed]) => listed === key)?.[1];
  if (work === undefined) {
    throw new RangeError(`no work is listed under the citation key ${key}; add it to citations.ts`);
  }
  return work.replace(/(\d)-(\d)/g, '$1\u2013$2');
}
