#include "web/page_file.h"

#include "base/path.h"

#include <string.h>

const ks_page_file *ks_page_find(const char *path)
{
    const char *name = strcmp(path, "/") == 0 ? "start.html" : path + 1;
    for (int i = 0; i < ks_n_page_files; i++)
        if (strcmp(ks_page_files[i].name, name) == 0)
            return &ks_page_files[i];
    return NULL;
}

const char *ks_media_type(const char *name)
{
    static const struct {
        const char *ending, *type;
    } types[] = {
        {".html", "text/html; charset=utf-8"},
        {".css", "text/css; charset=utf-8"},
        {".js", "text/javascript; charset=utf-8"},
        {".json", "application/json"},
        {".csv", "text/csv; charset=utf-8"},
        {".txt", "text/plain; charset=utf-8"},
        {".ics", "text/calendar; charset=utf-8"},
        {".svg", "image/svg+xml"},
        {".png", "image/png"},
        {".jpg", "image/jpeg"},
        {".jpeg", "image/jpeg"},
        {".webp", "image/webp"},
        {".ico", "image/vnd.microsoft.icon"},
        {".pdf", "application/pdf"},
        {".webmanifest", "application/manifest+json"},
    };
    for (size_t i = 0; i < sizeof types / sizeof *types; i++)
        if (ks_path_ends(name, types[i].ending))
            return types[i].type;
    return NULL;
}
