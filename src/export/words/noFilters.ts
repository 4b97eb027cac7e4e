/** What stands where the table of the filters would, in a design that needs none. */
export const NO_FILTERS = 'No filters: leave the equalizer flat.';
