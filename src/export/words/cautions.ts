/** One of the usual cautions: a word or two on top, then one or two sentences. */
export interface Caution {
  readonly title: string;
  readonly text: string;
}

/** Shown wherever filters are handed over. The maker's ratings, local codes and licensed practice go first. */
export const cautions: readonly Caution[] = [
  {
    title: 'Hearing',
    text: 'Turn the level down before switching filters in and raise it slowly. Long listening at a high level harms hearing; wear protection when measuring loudly.',
  },
  {
    title: 'Drivers',
    text: "A boost at low frequency costs cone travel: each octave lower needs four times the excursion for the same level, and below a vent's tuning the cone runs free. If you hear distortion or knocking, turn down. The maker's ratings decide.",
  },
  {
    title: 'Amplifier power',
    text: "A boost of 3 dB asks for double the power where it acts, 6 dB for four times. Stay within the maker's ratings.",
  },
  {
    title: 'Electricity',
    text: 'A cabinet that is fed from the mains stays closed. Leave work inside it to qualified people.',
  },
  {
    title: 'Mounting',
    text: "Stands, brackets and ceiling or wall mounts follow the maker's instructions and local codes. Keep the space that the maker asks for behind vents and heat sinks.",
  },
];
