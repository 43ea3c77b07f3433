/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * printers.ini in the user's configuration folder (or $STICKLEBACK_CONFIG_DIR): what the maker has
 * told or measured of printers. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What is kept; empty when there is none or it cannot be read. */
GKeyFile *sb_store_load (void) G_GNUC_WARN_UNUSED_RESULT;

/* Writes it whole or not at all. Errors: SB_FILE_ERROR_WRITE. */
gboolean sb_store_save (GKeyFile *store, GError **error);

/* A group's name from any texts (NULL-terminated list). Free with g_free. */
char *sb_store_make_group (const char *first, ...) G_GNUC_NULL_TERMINATED G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
