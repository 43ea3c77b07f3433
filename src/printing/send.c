/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "printing/send.h"

#include <errno.h>
#include <glib/gi18n.h>

#include "printing/cups-link.h"

#define COPIES_MOST 999
/* A job that fails at once (a broken filter) or whose printer does not answer shows it soon. */
#define FOLLOW_MS 1500
#define LOOK_EVERY_MS 100

typedef struct {
  ipp_jstate_t state;
  char *words;   /* what keeps it, in plain words, or NULL */
  char *message; /* what the queue itself says, or NULL */
} JobLook;

char *
sb_media_keyword (sb_um width, sb_um height)
{
  const SbPaper *paper = sb_paper_find_size (width, height);
  if (paper != NULL)
    return g_strdup (paper->name);
  char keyword[128];
  pwgFormatSizeName (keyword, sizeof keyword, "custom", NULL, width / 10, height / 10, "mm");
  return g_strdup (keyword);
}

static void
set_send_error (GError **error, const char *printer, http_t *http)
{
  ipp_status_t status = cupsLastError ();
  int broken = httpError (http);
  if (status == IPP_STATUS_ERROR_NOT_ACCEPTING_JOBS)
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_REFUSED, _ ("%s does not take jobs"),
                 printer);
  else if (status == IPP_STATUS_ERROR_REQUEST_ENTITY || broken == EPIPE || broken == ECONNRESET)
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_SEND,
                 _ ("The pages did not get to %s: the print service broke off. The disk it keeps "
                    "jobs on may be full, or the job larger than it takes."),
                 printer);
  else
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_SEND, _ ("The pages did not get to %s: %s"),
                 printer, cupsLastErrorString ());
}

static int
add_media (const SbTicket *ticket, int n, cups_option_t **options)
{
  if (!ticket->borderless) {
    g_autofree char *media = sb_media_keyword (ticket->width, ticket->height);
    return cupsAddOption ("media", media, n, options);
  }
  /* PWG 5100.7: a size by its name has its usual margins; one without has to be described. */
  g_autofree char *media =
      g_strdup_printf ("{media-size={x-dimension=%d y-dimension=%d} media-top-margin=0 "
                       "media-right-margin=0 media-bottom-margin=0 media-left-margin=0}",
                       ticket->width / 10, ticket->height / 10);
  return cupsAddOption ("media-col", media, n, options);
}

static int
fill_options (const SbTicket *ticket, cups_option_t **options)
{
  g_autofree char *copies = g_strdup_printf ("%d", CLAMP (ticket->copies, 1, COPIES_MOST));
  int n = add_media (ticket, 0, options);
  n = cupsAddOption ("copies", copies, n, options);
  /* PWG 5100.16: no scaling, whatever the queue's default is; and no sheet shared by pages. */
  n = cupsAddOption ("print-scaling", "none", n, options);
  n = cupsAddOption ("number-up", "1", n, options);
  n = cupsAddOption ("sides", "one-sided", n, options);
  return n;
}

static gboolean
write_document (SbCupsLink *link, GBytes *pdf)
{
  gsize length;
  const char *data = g_bytes_get_data (pdf, &length);
  for (gsize at = 0; at < length; at += 65536)
    if (cupsWriteRequestData (link->http, data + at, MIN (65536, length - at)) !=
        HTTP_STATUS_CONTINUE)
      return FALSE;
  return TRUE;
}

static gboolean
send_document (SbCupsLink *link, GBytes *pdf, const SbTicket *ticket, int *job_id)
{
  cups_dinfo_t *info = cupsCopyDestInfo (link->http, link->dest);
  if (info == NULL)
    return FALSE;
  cups_option_t *options = NULL;
  int n = fill_options (ticket, &options);
  gboolean sent =
      cupsCreateDestJob (link->http, link->dest, info, job_id, ticket->title, n, options) <=
          IPP_STATUS_OK_EVENTS_COMPLETE &&
      cupsStartDestDocument (link->http, link->dest, info, *job_id, ticket->title,
                             "application/pdf", n, options, 1) == HTTP_STATUS_CONTINUE &&
      write_document (link, pdf) &&
      cupsFinishDestDocument (link->http, link->dest, info) <= IPP_STATUS_OK_EVENTS_COMPLETE;
  cupsFreeOptions (n, options);
  cupsFreeDestInfo (info);
  return sent;
}

static const char *
get_text (ipp_t *answer, const char *name)
{
  ipp_attribute_t *attribute = ippFindAttribute (answer, name, IPP_TAG_TEXT);
  const char *text = attribute != NULL ? ippGetString (attribute, 0, NULL) : NULL;
  return text != NULL && *text != '\0' ? text : NULL;
}

/* What the queue says of the printer while the job is under way. */
static char *
words_of_printer (ipp_t *answer)
{
  ipp_attribute_t *reasons =
      ippFindAttribute (answer, "job-printer-state-reasons", IPP_TAG_KEYWORD);
  for (int i = 0; reasons != NULL && i < ippGetCount (reasons); i++) {
    const char *keyword = ippGetString (reasons, i, NULL);
    if (keyword == NULL || g_str_has_suffix (keyword, "-report"))
      continue;
    char *words = sb_cups_reason_in_words (keyword);
    if (words != NULL)
      return words;
  }
  return NULL;
}

static gboolean
look_at_job (SbCupsLink *link, int job_id, JobLook *look)
{
  static const char *const attributes[] = {"job-state", "job-printer-state-message",
                                           "job-printer-state-reasons"};
  ipp_t *request = ippNewRequest (IPP_OP_GET_JOB_ATTRIBUTES);
  ippAddString (request, IPP_TAG_OPERATION, IPP_TAG_URI, "printer-uri", NULL, link->uri);
  ippAddInteger (request, IPP_TAG_OPERATION, IPP_TAG_INTEGER, "job-id", job_id);
  ippAddString (request, IPP_TAG_OPERATION, IPP_TAG_NAME, "requesting-user-name", NULL,
                cupsUser ());
  ippAddStrings (request, IPP_TAG_OPERATION, IPP_CONST_TAG (IPP_TAG_KEYWORD),
                 "requested-attributes", G_N_ELEMENTS (attributes), NULL, attributes);
  ipp_t *answer = cupsDoRequest (link->http, request, link->resource);
  ipp_attribute_t *state =
      answer != NULL ? ippFindAttribute (answer, "job-state", IPP_TAG_ENUM) : NULL;
  g_clear_pointer (&look->words, g_free);
  if (state != NULL) {
    look->state = ippGetInteger (state, 0);
    look->words = words_of_printer (answer);
    g_free (look->message);
    look->message = g_strdup (get_text (answer, "job-printer-state-message"));
  }
  ippDelete (answer);
  return state != NULL;
}

static char *
note_of (const char *printer, const JobLook *look)
{
  if (look->state == IPP_JSTATE_HELD)
    return g_strdup_printf (_ ("%s holds the job until it is released"), printer);
  if (look->state == IPP_JSTATE_COMPLETED)
    return NULL;
  if (look->words != NULL)
    return g_strdup_printf (_ ("%s has the job, but %s"), printer, look->words);
  if (look->message != NULL)
    return g_strdup_printf (_ ("%s has the job and says: %s"), printer, look->message);
  return NULL;
}

static gboolean
follow_job (SbCupsLink *link, int job_id, char **note, GError **error)
{
  JobLook look = {IPP_JSTATE_PENDING, NULL, NULL};
  const char *printer = link->dest->name;
  for (int waited = 0; waited < FOLLOW_MS; waited += LOOK_EVERY_MS) {
    if (!look_at_job (link, job_id, &look) || look.state >= IPP_JSTATE_STOPPED)
      break;
    g_usleep (LOOK_EVERY_MS * 1000);
  }
  gboolean failed = look.state == IPP_JSTATE_ABORTED || look.state == IPP_JSTATE_CANCELED;
  if (failed)
    g_set_error (error, SB_PRINT_ERROR, SB_PRINT_ERROR_SEND, _ ("%s gave the job up: %s"), printer,
                 look.words != NULL     ? look.words
                 : look.message != NULL ? look.message
                                        : _ ("it does not say why"));
  else
    *note = note_of (printer, &look);
  g_free (look.words);
  g_free (look.message);
  return !failed;
}

gboolean
sb_printer_send (const char *printer, GBytes *pdf, const SbTicket *ticket, int *job_id, char **note,
                 GError **error)
{
  *job_id = 0;
  *note = NULL;
  g_autoptr (SbCupsLink) link = sb_cups_link_new (printer, error);
  if (link == NULL)
    return FALSE;
  if (!send_document (link, pdf, ticket, job_id)) {
    set_send_error (error, link->dest->name, link->http);
    if (*job_id > 0) /* a job without its document must not wait in the queue for ever */
      cupsCancelDestJob (link->http, link->dest, *job_id);
    return FALSE;
  }
  return follow_job (link, *job_id, note, error);
}

int
sb_printer_get_last_job (const char *printer)
{
  g_autoptr (SbCupsLink) link = sb_cups_link_new (printer, NULL);
  if (link == NULL)
    return -1;
  cups_job_t *jobs = NULL;
  int n = cupsGetJobs2 (link->http, &jobs, link->dest->name, 1, CUPS_WHICHJOBS_ALL);
  int last = n < 0 ? -1 : 0;
  for (int i = 0; i < n; i++)
    last = MAX (last, jobs[i].id);
  cupsFreeJobs (n, jobs);
  return last;
}

gboolean
sb_printer_follow_job (const char *printer, int job_id, char **note, GError **error)
{
  *note = NULL;
  g_autoptr (SbCupsLink) link = sb_cups_link_new (printer, error);
  return link != NULL && follow_job (link, job_id, note, error);
}
