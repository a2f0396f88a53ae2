export interface HelpTopic {
  title: string;
  text: string;
  /** Lines that can be said as they stand; a test holds that each is understood completely. */
  examples: readonly string[];
}

/** The help card of the dictation line. */
export const DICTATION_HELP: readonly HelpTopic[] = [
  {
    title: 'Name, then value',
    text: 'Say the field and its value, one after the other, as many as you like. Commas are welcome, not needed. A semicolon or a new line always ends a statement.',
    examples: ['wing 94 tail 71.5', 'mass 61.2 g, tarsus 20.4, culmen 12.3', 'sex female'],
  },
  {
    title: 'Numbers',
    text: 'Figures or words, decimal point or decimal comma. "1,250" could mean two things and is not accepted: say 1250 or 1.25.',
    examples: [
      'wing ninety four and a half',
      'tail 71,5',
      'wing one oh four',
      'largest follicle point eight',
    ],
  },
  {
    title: 'Units',
    text: 'Without a unit: mm, g, per cent. Centimetres, inches, kilograms, ounces and pounds are converted; what was said is kept.',
    examples: ['wing 3.7 in', 'tail 2 3/4 inches', 'mass 2 lb 3 oz', 'mass 1.35 kg'],
  },
  {
    title: 'Methods',
    text: 'The method may stand before or after the figure.',
    examples: ['wing chord 94', 'wing 96 flattened', 'minimum tarsus 20.1', 'mass 55 g incomplete'],
  },
  {
    title: 'Corrections',
    text: '"No", "sorry", "correction", "make that", "I mean": the new value replaces the old one, which is kept with who and when. "No" alone corrects the field named last.',
    examples: ['tail no 72.5', 'tail 71.5, sorry, 72.5', 'no, wing 95', 'correction tail 72.5'],
  },
  {
    title: 'Gonads',
    text: 'Side, length by width. After one side, the other side alone is enough. An organ that was seen and not measured is "seen".',
    examples: [
      'left testis 9 by 6 right 8 by 5',
      'left ovary 12 by 5, ovary granular, largest follicle 1.2',
      'oviduct straight',
      'left ovary seen',
      'gonads not found',
    ],
  },
  {
    title: 'Skull and bursa',
    text: 'Say how much is ossified as a figure if you can; words that give no figure are kept as words.',
    examples: [
      'skull fully ossified',
      'skull 80 percent',
      'skull partly ossified',
      'bursa 5 by 3',
      'no bursa',
    ],
  },
  {
    title: 'Scores',
    text: 'Say the scale, or let the lab set its own once. "No fat", "no moult", "no brood patch" are findings too.',
    examples: [
      'fat two on Kaiser',
      'fat moderate',
      'brood patch 3 euring',
      'primaries 5555432100',
      'no moult',
    ],
  },
  {
    title: 'Colours',
    text: 'A colour ends at the first word that describes none. Put anything else in quotation marks.',
    examples: ['iris dark brown, bill black, legs grey', 'bill horn with a dark tip', 'iris "5YR 3/4"'],
  },
  {
    title: 'Stomach, parasites, tissues',
    text: 'Items are parted by commas and "and"; an item that holds these itself goes in quotation marks.',
    examples: [
      'stomach two beetles and grit',
      'stomach "black and white seeds", grit',
      'stomach empty',
      'no parasites seen',
      'liver and heart in vial two',
      'muscle in vials one and two',
    ],
  },
  {
    title: 'Injuries, cause of death, remarks',
    text: 'A remark takes everything up to a semicolon or the end of the line, even names of fields.',
    examples: [
      'trauma bleeding in skull',
      'broken left humerus and right tibiotarsus',
      'cause of death window strike',
      'remarks tail 2 feathers missing; fat two',
    ],
  },
  {
    title: 'What comes next',
    text: 'The line offers the rest of a name or choice that was begun, or the field that the style fills next and that is still empty: → at its end takes it.',
    examples: ['sex female', 'wing chord 128 tail 98'],
  },
  {
    title: 'Hesitations',
    text: '"Um", "uh", "let me see", "okay" are passed over. What is not understood is marked and nothing is guessed.',
    examples: ['okay um wing uh 94 and then tail 71.5'],
  },
];
