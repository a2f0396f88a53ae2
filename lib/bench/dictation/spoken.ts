import type { FieldId } from '@/lib/bench/fields';

export interface Spoken {
  /** Ways to say the field; the first is the one we print. */
  say: readonly string[];
  /** Ways to say the field that also fix the method. */
  sayWithMethod?: Readonly<Record<string, readonly string[]>>;
}

/** How each field is named aloud. Only the grammar of the dictation needs it. */
export const SPOKEN: Readonly<Record<FieldId, Spoken>> = {
  identifiedAs: { say: ['identified as', 'determined as', 'species'] },
  massG: { say: ['mass', 'weight', 'weighs', 'wt', 'body mass'] },
  wingMm: {
    say: ['wing', 'wing length'],
    sayWithMethod: {
      chord: ['wing chord', 'natural wing', 'chord'],
      flattened: ['flat wing', 'flattened wing'],
      straightened: ['maximum wing', 'straightened wing', 'max wing'],
    },
  },
  tailMm: { say: ['tail', 'tail length', 'rectrix'] },
  tarsusMm: {
    say: ['tarsus', 'tarsometatarsus', 'tarsus length'],
    sayWithMethod: {
      minimum: ['minimum tarsus', 'min tarsus'],
      maximum: ['maximum tarsus', 'max tarsus'],
      'with-toe': ['tarsus and toe', 'tarsus plus toe'],
    },
  },
  culmenExposedMm: { say: ['exposed culmen', 'culmen', 'bill to feathers', 'bill from feathers'] },
  billFromNostrilMm: {
    say: [
      'bill from nostril',
      'bill to nostril',
      'bill from nares',
      'bill to nares',
      'nares',
      'nostril',
      'nares to tip',
    ],
  },
  billToSkullMm: { say: ['bill to skull', 'bill from skull', 'total culmen', 'culmen to skull'] },
  billFromCereMm: { say: ['bill from cere', 'bill to cere', 'culmen from cere'] },
  billDepthMm: { say: ['bill depth', 'depth of bill', 'bill height'] },
  billWidthMm: { say: ['bill width', 'width of bill', 'bill breadth'] },
  headAndBillMm: { say: ['head and bill', 'total head', 'head bill', 'head plus bill'] },
  totalLengthMm: { say: ['total length', 'body length', 'length of bird'] },
  wingspanMm: { say: ['wingspan', 'wing span', 'span'] },
  kippsDistanceMm: { say: ["kipp's distance", 'kipps distance', 'kipp distance', "kipp's", 'kipps', 'kipp'] },
  firstSecondaryMm: { say: ['first secondary', 'secondary one', 'secondary 1', 's1'] },
  middleToeMm: { say: ['middle toe', 'mid toe'] },
  hindClawMm: { say: ['hind claw', 'hallux claw', 'hallux'] },
  betweenWingsMm: { say: ['between wings', 'between the wings', 'distance between wings', 'wing to wing'] },
  sex: { say: ['sex', 'sexed as', 'sexed'] },
  organsSeen: { say: ['organs seen', 'gonads seen', 'gonads', 'organs', 'gonad'] },
  leftTestis: {
    say: ['left testis', 'testis left', 'testes left', 'left teste', 'left testicle', 'l testis'],
  },
  rightTestis: {
    say: ['right testis', 'testis right', 'testes right', 'right teste', 'right testicle', 'r testis'],
  },
  testis: { say: ['testis', 'testicle'] },
  testisColour: {
    say: ['testis colour', 'testes colour', 'testis color', 'testes color', 'testes', 'colour of testes'],
  },
  leftOvary: { say: ['left ovary', 'ovary left', 'l ovary'] },
  rightOvary: { say: ['right ovary', 'ovary right', 'r ovary'] },
  ovary: { say: ['ovary'] },
  ovaryState: { say: ['ovary state', 'ovary surface', 'ovary looks', 'ovary'] },
  largestFollicleMm: {
    say: ['largest follicle', 'largest ovum', 'follicle', 'follicles to', 'biggest follicle'],
  },
  oviductState: { say: ['oviduct', 'oviduct state'] },
  oviductWidthMm: { say: ['oviduct width', 'width of oviduct'] },
  plumageSex: { say: ['plumage sex', 'plumage', 'sex by plumage'] },
  molecularSex: { say: ['dna sex', 'dna', 'molecular sex', 'sex by dna'] },
  age: { say: ['age', 'aged as', 'aged'] },
  skullOssificationPct: { say: ['skull', 'skull ossification', 'ossification', 'cranium'] },
  skullRemarks: { say: ['skull remarks', 'skull remark', 'skull pattern'] },
  bursa: { say: ['bursa', 'bursa of fabricius'] },
  plumageAge: { say: ['plumage age', 'plumage', 'age by plumage'] },
  fat: { say: ['fat', 'fat score'] },
  pectoralMuscle: { say: ['pectoral muscle', 'pectoral', 'breast muscle', 'pectorals'] },
  broodPatch: { say: ['brood patch', 'brood patch score'] },
  moult: { say: ['moult', 'molt'] },
  bodyMoult: { say: ['body moult', 'body molt', 'moult on body'] },
  tailMoult: { say: ['tail moult', 'tail molt'] },
  primaryMoult: { say: ['primaries', 'primary moult', 'primary molt', 'primary scores'] },
  secondaryMoult: { say: ['secondaries', 'secondary moult', 'secondary molt', 'secondary scores'] },
  tailFeatherMoult: { say: ['tail feathers', 'rectrices', 'tail scores'] },
  irisColour: { say: ['iris', 'irides', 'eye', 'eyes', 'iris colour', 'eye colour'] },
  upperBillColour: { say: ['upper bill', 'upper mandible', 'maxilla'] },
  lowerBillColour: { say: ['lower bill', 'lower mandible', 'mandible'] },
  billColour: { say: ['bill', 'beak', 'bill colour'] },
  gapeColour: { say: ['gape', 'mouth', 'mouth lining'] },
  cereColour: { say: ['cere'] },
  orbitalSkinColour: { say: ['eye ring', 'eyering', 'orbital skin', 'orbital ring'] },
  facialSkinColour: { say: ['facial skin', 'face skin', 'lores', 'wattle'] },
  legColour: { say: ['legs', 'leg', 'tarsi', 'leg colour', 'legs and feet', 'legs and toes'] },
  footColour: { say: ['feet', 'foot', 'toes', 'soles'] },
  clawColour: { say: ['claws', 'claw', 'nails'] },
  stomachContents: { say: ['stomach', 'stomach contents', 'gizzard', 'stomach contains', 'stomach content'] },
  cropContents: { say: ['crop', 'crop contents', 'crop contains'] },
  parasites: { say: ['parasites', 'parasite', 'ectoparasites', 'endoparasites'] },
  tissueVials: { say: ['vial', 'vials', 'tissue vial', 'tube'] },
  carcassCondition: { say: ['condition', 'carcass', 'carcass condition'] },
  trauma: { say: ['trauma', 'injuries', 'injury', 'injured'] },
  brokenBones: { say: ['broken', 'broken bones', 'fractured', 'fractures'] },
  causeOfDeathFound: { say: ['cause of death', 'died of', 'killed by', 'death'] },
  remarks: { say: ['remarks', 'remark', 'note', 'notes', 'comment'] },
};
