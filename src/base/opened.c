#include "base/opened.h"

#include "base/path.h"

#include <assert.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* Like the language it holds for the whole process: what a file names is opened in many rooms, and
 * none of them is to be able to forget it. */
static struct {
    int n;
    char *paths[KS_OPENED_MOST];
    bool writes[KS_OPENED_MOST];
} kept;

void ks_opened_keep_to(int n, const ks_opened *folders)
{
    assert(n <= KS_OPENED_MOST);
    for (int i = 0; i < kept.n; i++)
        free(kept.paths[i]);
    kept.n = n;
    for (int i = 0; i < n; i++) {
        kept.writes[i] = folders[i].writes;
        kept.paths[i] = strdup(folders[i].path);
        if (!kept.paths[i])
            ks_no_memory();
    }
}

static bool is_below(const char *path, const char *folder)
{
    size_t length = strlen(folder);
    return strncmp(path, folder, length) == 0 &&
           (path[length] == '/' || path[length] == '\0' || length == 1);
}

/* Of the file where it is there, else of the nearest folder above that is; NULL for a link that
 * leads nowhere. */
static char *real_path(const char *path)
{
    struct stat about;
    ks_arena arena = {0};
    char *real = realpath(path, NULL);
    while (!real && errno == ENOENT && lstat(path, &about) != 0) {
        path = ks_path_folder(path, &arena);
        real = realpath(path, NULL);
    }
    ks_arena_finish(&arena);
    return real;
}

ks_status ks_opened_look(const char *path, bool writes, ks_error *err)
{
    if (kept.n == 0)
        return KS_OK;
    char *real = real_path(path);
    bool may = false;
    for (int i = 0; real && i < kept.n; i++)
        may = may || (is_below(real, kept.paths[i]) && (kept.writes[i] || !writes));
    free(real);
    return may ? KS_OK
               : ks_fail(err, KS_BAD_INPUT,
                         writes ? "%s: cannot be written here; name a file of the opened folder"
                                : "%s: cannot be read here; name a file of the opened folder",
                         path);
}
