#include "base/path.h"

#include "base/text.h"

#include <string.h>

const char *ks_path_folder(const char *path, ks_arena *arena)
{
    const char *slash = strrchr(path, '/');
    if (!slash)
        return ".";
    return slash == path ? "/" : ks_arena_text_n(arena, path, (size_t)(slash - path));
}

const char *ks_path_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

const char *ks_path_join(const char *folder, const char *name, ks_arena *arena)
{
    size_t length = strlen(folder);
    if (*name == '/' || length == 0)
        return name;
    const char *between = folder[length - 1] == '/' ? "" : "/";
    return ks_arena_print(arena, "%s%s%s", folder, between, name);
}

bool ks_path_ends(const char *path, const char *ending)
{
    size_t length = strlen(path), tail = strlen(ending);
    return length >= tail && ks_same_word(path + length - tail, ending);
}
