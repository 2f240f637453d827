/** Every sentence in and about the SQL form of a table: wording only, given as plain text. */

export const sqlWords = {
  /** A book's headline comes first. */
  about: (table: string, view: string): readonly string[] => [
    `A view, "${view}", over your table of logged trips, "${table}": one line per trip, and for each pick its status and its answer.`,
    "Where a column of a trip is NULL, its value is not known: the answer then stands only if every possible value leads to it, and else the status is depends.",
    'Where a trip cannot be answered, "refused" says why, and every status is refused.',
    "",
    "The view reads these columns (yours may have more). A measure is a number in the unit named; a day is month and day, 04-15; a time is 05:30.",
    "In MySQL and MariaDB, first: SET sql_mode = 'ANSI_QUOTES';",
  ],
  trip: "whatever tells your trips apart",
  column: (label: string, what: string): string => `${label}: ${what}`,
  member: (member: string): string => `1 where there is ${member}, 0 where there is none`,
  day: "month and day, such as 04-15 (of a date its last five signs)",
  time: "a time of the day, such as 05:30",
  number: (from: string, to: string): string => `a number, ${from} to ${to}`,
  notTaken: (column: string, takes: string): string => `${column} takes ${takes}.`,

  sign: (pick: string, option: string): string =>
    `No SQL for ${pick}: its option “${option}” holds a backslash or a control sign, which databases read differently. Leave it out of the option, or ask for other picks with --pick.`,
};
