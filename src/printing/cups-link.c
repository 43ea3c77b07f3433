/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "printing/cups-link.h"

#include <glib/gi18n.h>
#include <string.h>

#define CONNECT_MS 3000
#define ANSWER_SECONDS 5.0
/* How long printers on the network get to answer. Queues of the print service come at once. */
#define DISCOVER_MS 1500

G_DEFINE_QUARK (sb_print_error, sb_print_error)

static int
give_up (http_t *http, void *data)
{
  return 0;
}

/* Not cupsConnectDest: it goes to port 631 of the host that the queue names, whatever CUPS_SERVER
 * says. */
static http_t *
connect_to_service (GError **error)
{
  http_t *http = httpConnect2 (cupsServer (), ippPort (), NULL, AF_UNSPEC, cupsEncryption (), 1,
                               CONNECT_MS, NULL);
  if (http == NULL)
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_NO_SERVICE,
                 _ ("The print service (CUPS at %s) does not answer"), cupsServer ());
  else
    httpSetTimeout (http, ANSWER_SECONDS, give_up, NULL);
  return http;
}

typedef struct {
  SbCupsFound found;
  gpointer data;
} Enumeration;

static int
on_dest (void *data, unsigned flags, cups_dest_t *dest)
{
  Enumeration *enumeration = data;
  if ((flags & (CUPS_DEST_FLAGS_REMOVED | CUPS_DEST_FLAGS_ERROR)) != 0 || dest->instance != NULL)
    return 1;
  return enumeration->found (dest, enumeration->data);
}

gboolean
sb_cups_enumerate (SbCupsFound found, gpointer data, GError **error)
{
  Enumeration enumeration = {found, data};
  http_t *http = connect_to_service (error);
  if (http == NULL)
    return FALSE;
  httpClose (http);
  /* No mask: scanners and faxes are told by the caller from the printer's type. */
  cupsEnumDests (CUPS_DEST_FLAGS_NONE, DISCOVER_MS, NULL, 0,
                 CUPS_PRINTER_FAX | CUPS_PRINTER_SCANNER, on_dest, &enumeration);
  return TRUE;
}

typedef struct {
  const char *name; /* NULL: the default */
  cups_dest_t *dest;
} Search;

static gboolean
on_candidate (cups_dest_t *dest, gpointer data)
{
  Search *search = data;
  gboolean wanted =
      search->name != NULL ? strcmp (dest->name, search->name) == 0 : dest->is_default != 0;
  if (!wanted)
    return TRUE;
  cupsCopyDest (dest, 0, &search->dest);
  return FALSE;
}

static const char *
get_uri (const cups_dest_t *dest)
{
  return cupsGetOption ("printer-uri-supported", dest->num_options, dest->options);
}

/* A printer that is only announced on the network has no queue yet; asking for its details makes
 * the print service set up a temporary one. */
static void
make_queue (http_t *http, cups_dest_t **dest)
{
  cups_dinfo_t *info = cupsCopyDestInfo (http, *dest);
  cups_dest_t *queue = cupsGetNamedDest (http, (*dest)->name, NULL);
  cupsFreeDestInfo (info);
  if (queue != NULL) {
    cupsFreeDests (1, *dest);
    *dest = queue;
  }
}

static gboolean
find_dest (const char *printer, cups_dest_t **dest, GError **error)
{
  Search search = {printer, NULL};
  if (!sb_cups_enumerate (on_candidate, &search, error))
    return FALSE;
  *dest = search.dest;
  if (*dest == NULL && printer != NULL)
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_NO_PRINTER,
                 _ ("There is no printer named “%s”"), printer);
  else if (*dest == NULL)
    g_set_error_literal (error, SB_PRINT_ERROR, SB_PRINT_ERROR_NO_PRINTER,
                         _ ("There is no default printer; name one"));
  return *dest != NULL;
}

SbCupsLink *
sb_cups_link_new (const char *printer, GError **error)
{
  g_autoptr (SbCupsLink) link = g_new0 (SbCupsLink, 1);
  if (!find_dest (printer, &link->dest, error))
    return NULL;
  link->http = connect_to_service (error);
  if (link->http == NULL)
    return NULL;
  if (get_uri (link->dest) == NULL)
    make_queue (link->http, &link->dest);

  const char *uri = get_uri (link->dest);
  char scheme[32], user[256], host[256], resource[256];
  int port;
  if (uri == NULL ||
      httpSeparateURI (HTTP_URI_CODING_ALL, uri, scheme, sizeof scheme, user, sizeof user, host,
                       sizeof host, &port, resource, sizeof resource) < HTTP_URI_STATUS_OK) {
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_REFUSED, _ ("%s cannot be reached: %s"),
                 link->dest->name, cupsLastErrorString ());
    return NULL;
  }
  link->uri = g_strdup (uri);
  link->resource = g_strdup (resource);
  return g_steal_pointer (&link);
}

void
sb_cups_link_free (SbCupsLink *link)
{
  if (link == NULL)
    return;
  if (link->dest != NULL)
    cupsFreeDests (1, link->dest);
  httpClose (link->http);
  g_free (link->resource);
  g_free (link->uri);
  g_free (link);
}

ipp_t *
sb_cups_link_ask (SbCupsLink *link, const char *const *attributes, int n)
{
  ipp_t *request = ippNewRequest (IPP_OP_GET_PRINTER_ATTRIBUTES);
  ippAddString (request, IPP_TAG_OPERATION, IPP_TAG_URI, "printer-uri", NULL, link->uri);
  ippAddStrings (request, IPP_TAG_OPERATION, IPP_CONST_TAG (IPP_TAG_KEYWORD),
                 "requested-attributes", n, NULL, attributes);
  ipp_t *answer = cupsDoRequest (link->http, request, link->resource);
  if (answer != NULL && ippGetStatusCode (answer) > IPP_STATUS_OK_EVENTS_COMPLETE)
    g_clear_pointer (&answer, ippDelete);
  return answer;
}

/* RFC 8011, section 5.4.12, and PWG 5100.9; the ending -error, -warning or -report is taken off. */
static const struct {
  const char *keyword;
  const char *words;
} reasons[] = {
    {"connecting-to-device", N_ ("it does not answer")},
    {"cover-open", N_ ("a cover is open")},
    {"door-open", N_ ("a door is open")},
    {"input-tray-missing", N_ ("the paper tray is missing")},
    {"marker-supply-empty", N_ ("ink or toner is empty")},
    {"marker-supply-low", N_ ("ink or toner is low")},
    {"media-empty", N_ ("it is out of paper")},
    {"media-jam", N_ ("paper is jammed")},
    {"media-low", N_ ("paper is running low")},
    {"media-needed", N_ ("it needs paper")},
    {"offline", N_ ("it is switched off or not connected")},
    {"paused", N_ ("it is paused")},
    {"shutdown", N_ ("it is switched off")},
    {"spool-area-full", N_ ("its spool disk is full")},
    {"timed-out", N_ ("it does not answer")},
    {"toner-empty", N_ ("toner is empty")},
    {"toner-low", N_ ("toner is low")},
};

char *
sb_cups_reason_in_words (const char *keyword)
{
  static const char *const endings[] = {"-error", "-warning", "-report"};
  g_autofree char *stem = g_strdup (keyword);
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_str_has_suffix (stem, endings[i]))
      stem[strlen (stem) - strlen (endings[i])] = '\0';
  if (strcmp (stem, "none") == 0)
    return NULL;
  for (guint i = 0; i < G_N_ELEMENTS (reasons); i++)
    if (strcmp (reasons[i].keyword, stem) == 0)
      return g_strdup (_ (reasons[i].words));
  return g_steal_pointer (&stem);
}
