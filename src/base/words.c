#include "base/words.h"

#include "base/text.h"

#include <string.h>

static bool is_letter(char sign)
{
    return (sign >= 'a' && sign <= 'z') || (sign >= 'A' && sign <= 'Z');
}

static bool is_same(const char *word, const char *other, size_t length, bool any_case)
{
    if (strlen(word) != length)
        return false;
    for (size_t i = 0; i < length; i++) {
        bool cases = any_case && is_letter(word[i]) && (word[i] ^ other[i]) == ('a' ^ 'A');
        if (word[i] != other[i] && !cases)
            return false;
    }
    return true;
}

int ks_words_find(const char *words, const char *word, bool any_case)
{
    int place = 0;
    for (size_t length; *words; words += length + (words[length] == '|'), place++) {
        length = strcspn(words, "|");
        if (is_same(word, words, length, any_case))
            return place;
    }
    return -1;
}

bool ks_word_among(const char *word, const char *words)
{
    return ks_words_find(words, word, false) >= 0;
}

static int part(const char *words, ks_arena *arena, const char ***list)
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
    int n = part(words, arena, &list);
    return ks_nearest(word, list, n);
}

const char *ks_words_print(const char *words, ks_arena *arena)
{
    const char **list;
    int n = part(words, arena, &list);
    ks_text told = {.arena = arena};
    for (int i = 0; i < n; i++)
        ks_text_print(&told, "%s\"%s\"", i == 0 ? "" : i == n - 1 ? " or " : ", ", list[i]);
    return ks_text_end(&told);
}
