/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Included before everything in programs built with the thread sanitizer: tells it of GLib's locks,
 * which it cannot see because GLib itself is not built with it. */
#pragma once

#include <glib.h>
#include <sanitizer/tsan_interface.h>

static inline void
sb_seen_lock (GMutex *mutex)
{
  g_mutex_lock (mutex);
  __tsan_acquire (mutex);
}

static inline void
sb_seen_unlock (GMutex *mutex)
{
  __tsan_release (mutex);
  g_mutex_unlock (mutex);
}

#define g_mutex_lock(mutex) sb_seen_lock (mutex)
#define g_mutex_unlock(mutex) sb_seen_unlock (mutex)
