export { attack, type AttackedFile, DisclosureError, type EarlierVersion } from './attack.ts';
export { type DisclosurePolicy, disclosurePolicy } from './policy.ts';
export { protectFindings } from './protect.ts';
export { disclosureCautions, disclosureMethods } from './words.ts';
