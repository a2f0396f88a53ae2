import type { PreparationStyleId } from '@/lib/bench/schema';
import { type PreparationStyle, STYLE_LABELS, type StyleStep } from '@/lib/bench/styles';
import { phrases } from '@/lib/platform/words/say';

const SOURCE = 'Common practice, no source';

const step = (
  id: string,
  label: string,
  detail: string,
  cautions: StyleStep['cautions'] = [],
  fields: StyleStep['fields'] = [],
): StyleStep => ({ id, label, detail, cautions, fields });

const THAW = phrases(
  step(
    'thaw',
    'Thaw until workable',
    'Only as far as the work needs: ice crystals inside are welcome while tissue is still to come.',
    ['dead-birds', 'aerosol'],
  ),
);
const OUTSIDE = phrases(
  step(
    'outside',
    'Look, weigh, measure',
    'Before the first cut: identification, condition, mass, measurements, colours of soft parts, moult, brood patch, parasites on the plumage.',
    ['dead-birds'],
    [
      'massG',
      'wingMm',
      'tailMm',
      'tarsusMm',
      'culmenExposedMm',
      'totalLengthMm',
      'irisColour',
      'billColour',
      'legColour',
      'broodPatch',
      'moult',
      'parasites',
      'carcassCondition',
    ],
  ),
);
const SEX = phrases(
  step(
    'sex',
    'Look for the sex',
    'From the left flank, by the hindmost ribs against the back. Measure the gonads in place, length by width; describe follicles and oviduct; look for the bursa.',
    ['sharps'],
    [
      'organsSeen',
      'leftTestis',
      'rightTestis',
      'leftOvary',
      'largestFollicleMm',
      'oviductState',
      'bursa',
      'sex',
    ],
  ),
);
const TISSUE = phrases(
  step(
    'tissue',
    'Take tissue at once',
    'While still cold, with clean tools, into two duplicate vials; larger organs are shared between the two. Label before filling.',
    ['liquid-nitrogen', 'ethanol'],
    ['tissueVials'],
  ),
);
const INSIDE = phrases(
  step(
    'inside',
    'Open the body',
    'Fat, injuries, parasites; stomach contents into their own vial. Hold the cause of death found against what the finder reported.',
    ['sharps', 'salmonella'],
    ['fat', 'stomachContents', 'parasites', 'trauma', 'brokenBones', 'causeOfDeathFound'],
  ),
);
const SKULL = phrases(
  step(
    'skull',
    'Look at the skull',
    'Ossification under the lens; note windows and breaks.',
    [],
    ['skullOssificationPct', 'skullRemarks'],
  ),
);
const LABEL = phrases(
  step(
    'label',
    'Write and tie the label',
    'Number, sex with gonads, mass, date, place. Tie it before the bird leaves the bench.',
  ),
);
const vials = { kind: 'vial', least: 0, usual: 2 } as const;
const stomach = { kind: 'stomach', least: 0, usual: 1 } as const;

export const PREPARATION_STYLE_DATA: Readonly<Record<PreparationStyleId, PreparationStyle>> = phrases({
  'skin-with-partial-skeleton': {
    id: 'skin-with-partial-skeleton',
    version: 1,
    get label() {
      return STYLE_LABELS['skin-with-partial-skeleton'];
    },
    source: SOURCE,
    products: [
      { kind: 'skin', least: 1, usual: 1 },
      { kind: 'skeleton', least: 1, usual: 1 },
      vials,
      stomach,
    ],
    steps: [
      THAW,
      OUTSIDE,
      step(
        'skin-body',
        'Take the body out of the skin',
        'Up to the bill. Keep the skin clean of fat and juices with an absorbent; keep its dust out of the body cavity.',
        ['sharps', 'dust'],
      ),
      step(
        'head',
        'Decide skull, jaw and tongue bones',
        'Bill with part of the skull in the skin; hind skull and tongue bones with the skeleton; jaw as the lab does it.',
        ['sharps'],
        ['skullOssificationPct', 'skullRemarks'],
      ),
      SEX,
      TISSUE,
      INSIDE,
      step(
        'legs',
        'Decide the legs',
        'One leg whole with the skeleton: an unbroken one. The other stays with the skin.',
        ['sharps'],
        ['brokenBones'],
      ),
      step(
        'between-wings',
        'Measure between the wings',
        'On the body, before the wings are cut free.',
        [],
        ['betweenWingsMm'],
      ),
      step(
        'wings',
        'Decide the wings',
        'One wing whole with the skeleton: an unbroken one. Secondaries are pushed off the ulna, never pulled.',
        ['sharps'],
        ['brokenBones'],
      ),
      step('tie-wrists', 'Tie the wing bones', 'Wrist to wrist at 1⅔ of the distance between the wings.'),
      step(
        'set-aside',
        'Set the carcass aside for cleaning',
        'Number with it, bones counted against the bone book later.',
      ),
      step('fill', 'Fill and sew', 'Eyes, neck, body; sew from the front.', ['dust']),
      LABEL,
      step('pin', 'Pin and dry', 'Bill level, wings close, tail straight; dry before pest freezing.'),
    ],
  },
  'whole-skeleton': {
    id: 'whole-skeleton',
    version: 1,
    get label() {
      return STYLE_LABELS['whole-skeleton'];
    },
    source: SOURCE,
    products: [{ kind: 'skeleton', least: 1, usual: 1 }, vials, stomach],
    steps: [
      THAW,
      OUTSIDE,
      SKULL,
      SEX,
      TISSUE,
      INSIDE,
      step(
        'rough-clean',
        'Rough-clean',
        'Skin and most flesh off; keep toe bones, tongue bones, scleral rings and the pygostyle.',
        ['sharps'],
      ),
      step('bundle', 'Bundle and number', 'Legs and wings to the body, number tied on, ready for cleaning.'),
    ],
  },
  'spread-wing-with-skin': {
    id: 'spread-wing-with-skin',
    version: 1,
    get label() {
      return STYLE_LABELS['spread-wing-with-skin'];
    },
    source: SOURCE,
    products: [
      { kind: 'skin', least: 1, usual: 1 },
      { kind: 'wing', least: 1, usual: 1 },
      { kind: 'skeleton', least: 0, usual: 1 },
      vials,
      stomach,
    ],
    steps: [
      THAW,
      OUTSIDE,
      step(
        'skin-body',
        'Take the body out of the skin',
        'Keep the skin clean of fat and juices with an absorbent.',
        ['sharps', 'dust'],
      ),
      SKULL,
      SEX,
      TISSUE,
      INSIDE,
      step(
        'cut-wing',
        'Cut one wing at the shoulder',
        'The better plumaged one; its bones are booked with the wing.',
        ['sharps'],
        ['brokenBones'],
      ),
      step(
        'spread-wing',
        'Spread and pin the wing',
        'Leading edge straight, feathers in their order, dry flat.',
        ['sharps'],
      ),
      step('fill', 'Fill and sew the skin', 'The missing wing is noted on the label.', ['dust']),
      LABEL,
      step('pin', 'Pin and dry', 'Dry before pest freezing.'),
    ],
  },
  'flat-skin': {
    id: 'flat-skin',
    version: 1,
    get label() {
      return STYLE_LABELS['flat-skin'];
    },
    source: SOURCE,
    products: [
      { kind: 'flat-skin', least: 1, usual: 1 },
      { kind: 'skeleton', least: 0, usual: 1 },
      vials,
      stomach,
    ],
    steps: [
      THAW,
      OUTSIDE,
      step(
        'skin-body',
        'Take the body out of the skin',
        'Open along the side or the belly; keep the skin clean with an absorbent.',
        ['sharps', 'dust'],
      ),
      SKULL,
      SEX,
      TISSUE,
      INSIDE,
      step(
        'flatten',
        'Lay flat on card',
        'Feathers in order, one wing open if wanted, dry under a light weight.',
      ),
      LABEL,
    ],
  },
  fluid: {
    id: 'fluid',
    version: 1,
    get label() {
      return STYLE_LABELS.fluid;
    },
    source: SOURCE,
    products: [{ kind: 'fluid', least: 1, usual: 1 }, vials],
    steps: [
      THAW,
      OUTSIDE,
      step(
        'tissue',
        'Take tissue before fixing',
        'Through a small cut, while still cold; fixed tissue is poor for DNA.',
        ['sharps', 'liquid-nitrogen'],
        ['tissueVials', 'organsSeen', 'sex'],
      ),
      step('inject', 'Inject and fix', 'Body cavity and large muscles, then into the bath, label inside.', [
        'formaldehyde',
        'sharps',
      ]),
      step('move-to-ethanol', 'Rinse and move to ethanol', 'Note the strength on jar and label.', [
        'formaldehyde',
        'ethanol',
      ]),
      LABEL,
    ],
  },
  'tissue-only': {
    id: 'tissue-only',
    version: 1,
    get label() {
      return STYLE_LABELS['tissue-only'];
    },
    source: SOURCE,
    products: [{ kind: 'vial', least: 1, usual: 2 }],
    steps: [
      THAW,
      OUTSIDE,
      SEX,
      TISSUE,
      step('dispose', 'Dispose of the rest', 'Record what was discarded and why.', ['waste'], ['remarks']),
    ],
  },
  discard: {
    id: 'discard',
    version: 1,
    get label() {
      return STYLE_LABELS.discard;
    },
    source: SOURCE,
    products: [],
    steps: [
      step(
        'reason',
        'Record why',
        'What made it unusable, and what could still be seen.',
        ['dead-birds'],
        ['carcassCondition', 'causeOfDeathFound', 'remarks'],
      ),
      step('dispose', 'Dispose of it', 'As the permit and local rules ask.', ['waste']),
    ],
  },
});
