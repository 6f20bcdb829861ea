/* arena.h: memory for things that live and die together. */
#ifndef KILNSTOW_ARENA_H
#define KILNSTOW_ARENA_H

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* `ks_arena a = {0};` is ready for use. One arena belongs to one thread at a time. When the
 * machine has no memory left, the program says so and exits with KS_SYSTEM: no caller checks. */
typedef struct {
    struct ks_page *newest;
} ks_arena;

/* Says that the machine has no memory left, and exits with KS_SYSTEM. */
void ks_no_memory(void) __attribute__((noreturn));

/* `count` zeroed objects of `size` bytes, aligned for any type; never NULL, also for count 0. */
void *ks_arena_take(ks_arena *arena, size_t count, size_t size);

/* A copy of the text (of its first `length` bytes), ended by a NUL. */
char *ks_arena_text(ks_arena *arena, const char *text);
char *ks_arena_text_n(ks_arena *arena, const char *text, size_t length);

/* printf into the arena. */
char *ks_arena_print(ks_arena *arena, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Frees all; the arena is then empty and usable. */
void ks_arena_finish(ks_arena *arena);

#define KS_TAKE(arena, count, type) ((type *)ks_arena_take((arena), (size_t)(count), sizeof(type)))

/* Makes room in an arena-held array of `*have` used and `*room` allocated objects for one more;
 * returns the (perhaps moved) array. The old copy stays until the arena ends. */
void *ks_arena_grow(ks_arena *arena, void *array, int have, int *room, size_t size);
#define KS_GROW(arena, array, have, room, type)                                                    \
    ((type *)ks_arena_grow((arena), (array), (have), (room), sizeof(type)))

#ifdef __cplusplus
}
#endif

#endif
