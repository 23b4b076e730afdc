// Of glib, what libsmf uses in the build for WebAssembly: arrays of pointers that grow, and a log
// with one handler. Names and meaning are those of glib's own documentation.
#ifndef YUBIFU_WEB_CORE_GLIB_H
#define YUBIFU_WEB_CORE_GLIB_H

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef char gchar;
typedef int gint;
typedef unsigned guint;
typedef int gboolean;
typedef void* gpointer;
typedef const void* gconstpointer;

#ifndef TRUE
#define FALSE 0
#define TRUE 1
#endif

typedef struct {
  gpointer* pdata;
  guint len;
  guint room;  // for so many pointers; not part of glib's own
} GPtrArray;

typedef gint (*GCompareFunc)(gconstpointer, gconstpointer);

#define g_ptr_array_index(array, index) ((array)->pdata[index])

static inline GPtrArray* g_ptr_array_new(void) {
  return (GPtrArray*)calloc(1, sizeof(GPtrArray));
}

// As glib's own, it ends the process when there is no memory.
static inline void g_ptr_array_add(GPtrArray* array, gpointer item) {
  if (array->len == array->room) {
    array->room = array->room == 0 ? 16 : 2 * array->room;
    array->pdata = (gpointer*)realloc(array->pdata, array->room * sizeof(gpointer));
    if (array->pdata == NULL) abort();
  }
  array->pdata[array->len++] = item;
}

static inline gpointer g_ptr_array_remove_index(GPtrArray* array, guint index) {
  gpointer item = array->pdata[index];
  memmove(array->pdata + index, array->pdata + index + 1,
          (array->len - index - 1) * sizeof(gpointer));
  --array->len;
  return item;
}

static inline gboolean g_ptr_array_remove(GPtrArray* array, gpointer item) {
  for (guint i = 0; i < array->len; ++i) {
    if (array->pdata[i] != item) continue;
    g_ptr_array_remove_index(array, i);
    return TRUE;
  }
  return FALSE;
}

static inline void g_ptr_array_set_size(GPtrArray* array, gint size) {
  while (array->len < (guint)size) g_ptr_array_add(array, NULL);
  array->len = (guint)size;
}

// Equal items keep their order, which qsort does not promise.
static inline void g_ptr_array_sort(GPtrArray* array, GCompareFunc compare) {
  for (guint i = 1; i < array->len; ++i) {
    gpointer item = array->pdata[i];
    guint at = i;
    for (; at > 0 && compare(&array->pdata[at - 1], &item) > 0; --at) {
      array->pdata[at] = array->pdata[at - 1];
    }
    array->pdata[at] = item;
  }
}

static inline gpointer* g_ptr_array_free(GPtrArray* array, gboolean with_items) {
  gpointer* items = array->pdata;
  if (with_items) {
    free(items);
    items = NULL;
  }
  free(array);
  return items;
}

typedef enum {
  G_LOG_FLAG_RECURSION = 1 << 0,
  G_LOG_LEVEL_ERROR = 1 << 2,
  G_LOG_LEVEL_CRITICAL = 1 << 3,
  G_LOG_LEVEL_WARNING = 1 << 4,
  G_LOG_LEVEL_MESSAGE = 1 << 5,
  G_LOG_LEVEL_DEBUG = 1 << 7,
  G_LOG_LEVEL_MASK = ~3
} GLogLevelFlags;

typedef void (*GLogFunc)(const gchar* domain, GLogLevelFlags level, const gchar* line,
                         gpointer data);

#ifdef __cplusplus
extern "C" {
#endif
// Defined in glib.c. One handler serves every domain, since there is one library that logs.
guint g_log_set_handler(const gchar* domain, GLogLevelFlags levels, GLogFunc handler,
                        gpointer data);
void g_log(const gchar* domain, GLogLevelFlags level, const gchar* format, ...);
#ifdef __cplusplus
}
#endif

#ifndef G_LOG_DOMAIN
#define G_LOG_DOMAIN NULL
#endif
#define g_error(...) (g_log(G_LOG_DOMAIN, G_LOG_LEVEL_ERROR, __VA_ARGS__), abort())
#define g_critical(...) g_log(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, __VA_ARGS__)
#define g_warning(...) g_log(G_LOG_DOMAIN, G_LOG_LEVEL_WARNING, __VA_ARGS__)
#define g_message(...) g_log(G_LOG_DOMAIN, G_LOG_LEVEL_MESSAGE, __VA_ARGS__)
#define g_debug(...) g_log(G_LOG_DOMAIN, G_LOG_LEVEL_DEBUG, __VA_ARGS__)

#endif
