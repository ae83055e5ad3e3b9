import { z } from 'zod'

/** Imported before any schema where a content security policy forbids compiling code at run time: the page. */
z.config({ jitless: true })
