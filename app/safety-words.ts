/** What is to be done before anything changes what an indicator gives out: one wording for screen, paper and terminal. */
export const makeSafe = 'Put the loop in manual, isolate outputs and trips, let nobody stay under a load or in reach of what moves.'

/** The same where several points are acted on. */
export const makeAllSafe = 'Put the loops in manual, isolate outputs and trips, let nobody stay under a load or in reach of what moves.'

/** Said with every write. */
export const rulesFirst = 'Local rules and licensed practice come first.'
