/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The clock of the benchmarks. */
#pragma once

#include <time.h>

/* Milliseconds by a clock of clock_gettime; CLOCK_MONOTONIC is the time on the wall. */
static inline double
read_ms (clockid_t id)
{
  struct timespec t;

  clock_gettime (id, &t);
  return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

/* What all threads of the process had of the processor, in milliseconds: other work on the machine
 * disturbs it less. */
static inline double
read_cpu_ms (void)
{
  return read_ms (CLOCK_PROCESS_CPUTIME_ID);
}
