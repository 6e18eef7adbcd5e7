/** As shared/wire/accounts.ts has them, whose schemas are too much code for the page (limits.test.ts holds them together). */
export const SHORTEST_PASSWORD = 12;
export const LONGEST_SHARE_DAYS = 366;
