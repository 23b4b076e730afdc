#include "glib.h"

enum { kLongestLine = 1000 };

static GLogFunc log_handler = NULL;
static gpointer log_data = NULL;

guint g_log_set_handler(const gchar* domain, GLogLevelFlags levels, GLogFunc handler,
                        gpointer data) {
  (void)domain;
  (void)levels;
  log_handler = handler;
  log_data = data;
  return 1;
}

void g_log(const gchar* domain, GLogLevelFlags level, const gchar* format, ...) {
  gchar line[kLongestLine];
  va_list values;
  if (log_handler == NULL) return;
  va_start(values, format);
  vsnprintf(line, sizeof line, format, values);
  va_end(values);
  log_handler(domain, level, line, log_data);
}
