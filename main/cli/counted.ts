/** "1 setting", "2 settings". */
export const counted = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`
