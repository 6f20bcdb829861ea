#include "kilnstow/arena.h"

#include "base/number.h"
#include "kilnstow/error.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PAGE_BYTES = 64 * 1024 };

struct ks_page {
    struct ks_page *older;
    size_t used, room;
    max_align_t bytes[];
};

_Noreturn void ks_no_memory(void)
{
    fputs(
        "kilnstow: the machine has no memory left for this; close other programs or ask for less\n",
        stderr);
    exit(KS_SYSTEM);
}

static struct ks_page *add_page(ks_arena *arena, size_t bytes)
{
    size_t room = bytes > PAGE_BYTES ? bytes : PAGE_BYTES;
    struct ks_page *page = malloc(sizeof *page + room);
    if (!page)
        ks_no_memory();
    *page = (struct ks_page){.older = arena->newest, .room = room};
    arena->newest = page;
    return page;
}

void *ks_arena_take(ks_arena *arena, size_t count, size_t size)
{
    if (size > 0 && count > (SIZE_MAX / 2 - PAGE_BYTES) / size)
        ks_no_memory();
    size_t step = sizeof(max_align_t);
    size_t bytes = (count * size + step - 1) / step * step;
    struct ks_page *page = arena->newest;
    if (!page || page->room - page->used < bytes)
        page = add_page(arena, bytes);
    void *taken = (char *)page->bytes + page->used;
    page->used += bytes;
    return memset(taken, 0, bytes);
}

char *ks_arena_text_n(ks_arena *arena, const char *text, size_t length)
{
    char *copy = ks_arena_take(arena, length + 1, 1);
    if (length > 0)
        memcpy(copy, text, length);
    return copy;
}

char *ks_arena_text(ks_arena *arena, const char *text)
{
    return ks_arena_text_n(arena, text, strlen(text));
}

char *ks_arena_print(ks_arena *arena, const char *format, ...)
{
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    int length = ks_print_plain(NULL, 0, format, args);
    char *text = ks_arena_take(arena, length < 0 ? 1 : (size_t)length + 1, 1);
    if (length > 0)
        (void)ks_print_plain(text, (size_t)length + 1, format, again);
    va_end(again);
    va_end(args);
    return text;
}

void *ks_arena_grow(ks_arena *arena, void *array, int have, int *room, size_t size)
{
    if (have < *room)
        return array;
    *room = *room > 0 ? 2 * *room : 8;
    void *moved = ks_arena_take(arena, (size_t)*room, size);
    if (have > 0)
        memcpy(moved, array, (size_t)have * size);
    return moved;
}

void ks_arena_finish(ks_arena *arena)
{
    for (struct ks_page *page = arena->newest; page;) {
        struct ks_page *older = page->older;
        free(page);
        page = older;
    }
    arena->newest = NULL;
}
