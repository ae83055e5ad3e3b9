/** Most sensors of one point. */
export const mostSensors = 16
