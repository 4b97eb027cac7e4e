/** How the Q of every filter is meant, in words. */
export const qConventionWords = 'Audio EQ Cookbook Q (W3C Group Note)';
