/** Names of the messages between preload and host. `ready`: a page has loaded and wants everything from the beginning. */
export const ipcNames = { ready: 'spanwright:ready', toHost: 'spanwright:to-host', toPage: 'spanwright:to-page' } as const
