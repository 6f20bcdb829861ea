#include "base/words.h"

#include "base/text.h"

#include <string.h>

bool ks_word_among(const char *word, const char *words)
{
    for (size_t length; *words; words += length + (words[length] == '|')) {
        length = strcspn(words, "|");
        if (strlen(word) == length && strncmp(word, words, length) == 0)
            return true;
    }
    return false;
}

static int parted(const char *words, ks_arena *arena, const char ***list)
{
    int n = 0, room = 0;
    *list = NULL;
    for (size_t length; *words; words += length + (words[length] == '|')) {
        length = strcspn(words, "|");
        *list = KS_GROW(arena, *list, n, &room, const char *);
        (*list)[n++] = ks_arena_text_n(arena, words, length);
    }
    return n;
}

const char *ks_word_nearest(const char *word, const char *words, ks_arena *arena)
{
    const char **list;
    int n = parted(words, arena, &list);
    return ks_nearest(word, list, n);
}

const char *ks_words_told(const char *words, ks_arena *arena)
{
    const char **list;
    int n = parted(words, arena, &list);
    ks_text told = {.arena = arena};
    for (int i = 0; i < n; i++)
        ks_text_print(&told, "%s\"%s\"", i == 0 ? "" : i == n - 1 ? " or " : ", ", list[i]);
    return ks_text_end(&told);
}
