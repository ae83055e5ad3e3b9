import { z } from 'zod'

const failure = z.strictObject({
  ok: z.literal(false),
  /** The exit code, as listed by `--help`. */
  exit: z.int(),
  why: z.string(),
  where: z.string().optional(),
  /** The failure as the host gave it. */
  detail: z.unknown().optional(),
})

const portsOutput = z.strictObject({
  ok: z.literal(true),
  ports: z.array(
    z.strictObject({
      path: z.string(),
      manufacturer: z.string().optional(),
      serialNumber: z.string().optional(),
      vendorId: z.string().optional(),
      productId: z.string().optional(),
      pnpId: z.string().optional(),
      locationId: z.string().optional(),
    }),
  ),
})

const profileCheckOutput = z.strictObject({
  ok: z.boolean(),
  files: z.array(
    z.discriminatedUnion('ok', [
      z.strictObject({ file: z.string(), ok: z.literal(true), id: z.string(), name: z.string(), registers: z.int() }),
      z.strictObject({
        file: z.string(),
        ok: z.literal(false),
        problems: z.array(z.strictObject({ path: z.string(), message: z.string() })),
      }),
    ]),
  ),
})

const simulateOutput = z.strictObject({
  ok: z.literal(true),
  profile: z.string(),
  unit: z.int(),
  link: z.enum(['pty', 'rtu-over-tcp', 'modbus-tcp']),
  path: z.string().optional(),
  host: z.string().optional(),
  port: z.int().optional(),
})

/** What `--json` prints, by command; `failure` is what every one of them prints instead where it came to nothing. */
export const jsonOutputs = {
  failure,
  ports: portsOutput,
  'profile-check': profileCheckOutput,
  simulate: simulateOutput,
} as const satisfies Record<string, z.ZodType>

export type JsonOutput = keyof typeof jsonOutputs
