/*
 * Floodbar: calculations for people who print garments through a screen.
 *
 * Every calculation has a name and takes and gives JSON text. floodbar_catalogue lists them, with the question each one
 * answers and the JSON Schemas of its request and answer.
 *
 * Generated from the Rust source: do not edit.
 * SPDX-License-Identifier: MIT OR Apache-2.0
 */

#ifndef FLOODBAR_H
#define FLOODBAR_H

#include <stddef.h>
#include <stdint.h>

/**
 * The binary interface that this header describes. A program that loads the library at run time compares it with what
 * floodbar_abi() says.
 */
#define FLOODBAR_ABI 1

/**
 * Keeps the numbers of runs through heat (flash, dryer) under all that they hang on, bit for bit, for the calls that it is given to.
 * Answers are the same with it and without; only the time is not. Threads may share one.
 */
typedef struct floodbar_cache floodbar_cache;

/**
 * A calculation that is ready for rows of numbers. It never changes: threads may share one and run it at once.
 */
typedef struct floodbar_prepared floodbar_prepared;

/**
 * What became of a call: 0 is success, any other number says why there is no answer. Numbers are only ever added.
 */
typedef int32_t floodbar_status;

/**
 * There is an answer.
 */
#define FLOODBAR_SUCCESS 0

/**
 * The request is not JSON, is not UTF-8, or repeats a key.
 */
#define FLOODBAR_BAD_JSON 1

/**
 * No calculation has that name.
 */
#define FLOODBAR_UNKNOWN_CALCULATION 2

/**
 * A field that the request does not have.
 */
#define FLOODBAR_UNKNOWN_FIELD 3

/**
 * A field that the request needs is absent.
 */
#define FLOODBAR_MISSING_FIELD 4

/**
 * Text that is not a quantity, or a bare number where one belongs.
 */
#define FLOODBAR_BAD_QUANTITY 5

/**
 * A quantity of another dimension.
 */
#define FLOODBAR_WRONG_DIMENSION 6

/**
 * Outside what can exist, or a word that is not on the list.
 */
#define FLOODBAR_OUT_OF_RANGE 7

/**
 * Each value can exist, but not together.
 */
#define FLOODBAR_IMPOSSIBLE 8

/**
 * The question has no answer for these values.
 */
#define FLOODBAR_NO_SOLUTION 9

/**
 * A pointer is NULL that must not be.
 */
#define FLOODBAR_NULL_POINTER 10

/**
 * A fault of this library.
 */
#define FLOODBAR_INTERNAL 11

/**
 * A limit of size, depth or steps.
 */
#define FLOODBAR_TOO_LONG 12

/**
 * A JSON type that the field does not take.
 */
#define FLOODBAR_WRONG_TYPE 13

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

/**
 * The version of the library, such as "1.2.3". Valid for as long as the library is loaded; not to be freed.
 */
const char *floodbar_version(void);

/**
 * The number of the binary interface. It grows when a program compiled with an older header would no longer work.
 */
uint32_t floodbar_abi(void);

/**
 * Makes a cache that keeps so many runs at most; what was not asked for the longest goes first.
 *
 * It belongs to the caller, who gives it back to floodbar_cache_free(). NULL, should the library have a fault of its own: the calls
 * then do without a cache.
 *
 * @param entries how many runs it may keep
 */
struct floodbar_cache *floodbar_cache_new(size_t entries);

/**
 * Frees a cache, from any thread. NULL is fine. What was prepared with it may go on: it keeps what it needs.
 *
 * # Safety
 * `cache` is NULL, or came from floodbar_cache_new(), has not been freed before, and no call on another thread uses it.
 */
void floodbar_cache_free(struct floodbar_cache *cache);

/**
 * How often a run was found in a cache, and how often it was not.
 *
 * FLOODBAR_NULL_POINTER where any of the pointers is NULL; then nothing is written.
 *
 * @param cache the cache
 * @param hits where the number of runs that were found goes
 * @param misses where the number of the others goes
 *
 * # Safety
 * `cache` is NULL or a cache that has not been freed; `hits` and `misses` are NULL or point to a number that no other thread uses
 * during the call.
 */
floodbar_status floodbar_cache_counts(const struct floodbar_cache *cache,
                                      uint64_t *hits,
                                      uint64_t *misses);

/**
 * Answers a request.
 *
 * With FLOODBAR_SUCCESS, *answer_json is the answer. With any other status it is the error:
 * {"error": {"code", "field", "message", "got", "allowed"}}, where "code" is what floodbar_status_text() says of the
 * status and "field" is a JSON pointer into the request.
 *
 * Both are zero-terminated UTF-8 on one line. They belong to the caller, who gives them back to floodbar_free().
 * Whatever *answer_json held before is overwritten and not freed; after the call it is NULL or a text to be freed,
 * whatever the status. If answer_json itself is NULL, nothing is calculated and the status is all there is.
 *
 * Safe to call from many threads at once: no call depends on another. Nothing is written to the standard streams, unless
 * the library has a fault of its own (FLOODBAR_INTERNAL).
 *
 * @param id the calculation's name, such as "mesh.geometry"; one that is not UTF-8 is FLOODBAR_UNKNOWN_CALCULATION
 * @param request_json the request, such as {"mesh": "77-55"}; UTF-8
 * @param answer_json where the text goes
 *
 * # Safety
 * `id` and `request_json` are NULL or point to zero-terminated text that no one changes during the call. `answer_json` is
 * NULL or points to a `char *` that no other thread uses during the call.
 */
floodbar_status floodbar_calculate(const char *id,
                                   const char *request_json,
                                   char **answer_json);

/**
 * Measures a separation: printed area, edges, finest line and gap. The answer is that of "artwork.measure", and goes into the
 * "artwork" of "ink.usage" and "job.plan" as it stands.
 *
 * The pixels are bytes, row by row from the top. How to read them stands in the request:
 * {"pixels_wide": 3900, "pixels_high": 4800, "resolution": "300 /in", "ink": "dark"}, with "stride" where rows are further
 * apart than they are wide, and "edge_length_scale" for the reach of a stencil's edge. They are read during the call only.
 *
 * Status, answer and error as in floodbar_calculate().
 *
 * @param pixels the first of them
 * @param length how many bytes there are
 * @param spec_json how to read them; UTF-8
 * @param answer_json where the text goes
 *
 * # Safety
 * `pixels` is NULL or points to `length` bytes that no one changes during the call; `spec_json` and `answer_json` are as
 * `request_json` and `answer_json` of floodbar_calculate().
 */
floodbar_status floodbar_artwork_measure(const uint8_t *pixels,
                                         size_t length,
                                         const char *spec_json,
                                         char **answer_json);

/**
 * Lists all calculations, as one JSON document: for each the name, the question it answers, the formula, the sources,
 * an example, and the JSON Schemas (draft 2020-12) of request and answer.
 *
 * The text belongs to the caller, as that of floodbar_calculate() does, and is the same at every call.
 *
 * @param catalogue_json where the text goes
 *
 * # Safety
 * `catalogue_json` is NULL or points to a `char *` that no other thread uses during the call.
 */
floodbar_status floodbar_catalogue(char **catalogue_json);

/**
 * Answers many requests of one calculation, in their order.
 *
 * With FLOODBAR_SUCCESS, *answers_json is a list with an entry for each request: its answer, or its error as
 * {"error": {...}}. A request that fails spoils no other, and the call is a success; only a fault of the call itself (NULL, an
 * unknown calculation, a text that is no list) gives another status and one error. The text may have up to 64 MiB here and a
 * million requests, where other calls take 4 MiB. A list of one request is floodbar_calculate() with a cache.
 *
 * Ownership of the text, and threads, as in floodbar_calculate().
 *
 * @param cache where the numbers of heat are kept; NULL for nowhere
 * @param id the calculation's name
 * @param requests_json the requests, such as [{"mesh": "77-55"}, {"mesh": "55-64"}]; UTF-8
 * @param answers_json where the text goes
 *
 * # Safety
 * `cache` is NULL or a cache that no one frees during the call; the others are as in floodbar_calculate().
 */
floodbar_status floodbar_calculate_many(struct floodbar_cache *cache,
                                        const char *id,
                                        const char *requests_json,
                                        char **answers_json);

/**
 * Answers a calculation at many points of one of its inputs, at most 10,000.
 *
 * The specification has "vary" (a JSON pointer into the request, whose number need not stand in it), and either "from", "to",
 * "points" and perhaps "spacing" ("linear" or "geometric"), or "values", a list of whatever belongs there; and perhaps "want", a list
 * of JSON pointers into the answer, each by itself or as {"at", "unit"} or {"at", "equals"}.
 *
 * The answer has "x" and "answers", a list of answers and errors; or, with "want", "x", "columns" and "errors". A point that fails
 * spoils no other. A pointer of an error of the call leads into the request or into the specification, whichever has such a field.
 *
 * Status, ownership of the text, and threads, as in floodbar_calculate().
 *
 * @param cache where the numbers of heat are kept; NULL for nowhere
 * @param id the calculation's name
 * @param request_json the request
 * @param spec_json the specification, such as {"vary": "/over_mesh", "from": "0 um", "to": "40 um", "points": 9}
 * @param answer_json where the text goes
 *
 * # Safety
 * As floodbar_calculate_many().
 */
floodbar_status floodbar_sweep(struct floodbar_cache *cache,
                               const char *id,
                               const char *request_json,
                               const char *spec_json,
                               char **answer_json);

/**
 * Finds the value of an input at which a number of the answer is what is wanted.
 *
 * The specification has "vary" (a JSON pointer into the request), "from", "to", "want" (a JSON pointer into the answer) and
 * "equals". The answer has "value" and "reached", "others" where there is more than one, "evaluations", and "jump"; where nothing
 * in the range does it the status is FLOODBAR_NO_SOLUTION, and the error says what the answer is at both ends.
 *
 * Status, ownership of the text, and threads, as in floodbar_calculate().
 *
 * @param cache where the numbers of heat are kept; NULL for nowhere
 * @param id the calculation's name
 * @param request_json the request
 * @param spec_json the specification, such as
 *     {"vary": "/prints", "from": "1", "to": "1000", "want": "/mass_to_mix", "equals": "1 kg"}
 * @param answer_json where the text goes
 *
 * # Safety
 * As floodbar_calculate_many().
 */
floodbar_status floodbar_solve(struct floodbar_cache *cache,
                               const char *id,
                               const char *request_json,
                               const char *spec_json,
                               char **answer_json);

/**
 * Frees a text that one of the functions of this library gave, from any thread. NULL is fine.
 *
 * Not for texts from floodbar_status_text() or floodbar_version(): those are never freed.
 *
 * # Safety
 * `text` is NULL, or came from this library, still has the length it came with, and has not been freed before.
 */
void floodbar_free(char *text);

/**
 * Makes a calculation ready for rows of numbers: the request is read once, then the named numbers are set and read as doubles in the
 * named units.
 *
 * With FLOODBAR_SUCCESS, *prepared is the prepared calculation and *error_json is NULL. With any other status *prepared is NULL and
 * *error_json is the error, whose pointer leads into the request or into the columns, whichever has such a field. Whatever both held
 * before is overwritten and not freed. If either of the two pointers is NULL, nothing is prepared and the status is
 * FLOODBAR_NULL_POINTER.
 *
 * The prepared calculation belongs to the caller, who gives it back to floodbar_prepared_free(); the text is freed as all texts are. The
 * request, the columns and the cache may go as soon as the call is over.
 *
 * Safe to call from many threads at once.
 *
 * @param cache where the numbers of heat are kept, now and when it runs; NULL for nowhere
 * @param id the calculation's name
 * @param request_json the request; numbers that the inputs set need not stand in it
 * @param columns_json "inputs", numbers of the request, and "outputs", numbers of the answer, such as
 *     {"inputs": [{"at": "/printed_area", "unit": "cm2"}], "outputs": [{"at": "/mass_to_mix", "unit": "g"}]};
 *     a truth value is 0 or 1; a word is asked as {"at": "/verdict", "equals": "cured"}. A unit left out is the usual one of that
 *     number, never chosen by size
 * @param prepared where the prepared calculation goes
 * @param error_json where the text of an error goes
 *
 * # Safety
 * `cache` is NULL or a cache that no one frees during the call; the texts are as in floodbar_calculate(); `prepared` and
 * `error_json` are NULL or point to a pointer that no other thread uses during the call, and not to the same one.
 */
floodbar_status floodbar_prepare(struct floodbar_cache *cache,
                                 const char *id,
                                 const char *request_json,
                                 const char *columns_json,
                                 struct floodbar_prepared **prepared,
                                 char **error_json);

/**
 * Works out rows of numbers: one column for each input, one for each output, in the order in which they were prepared.
 *
 * The call is a success though rows fail: row_status says for each row whether it has an answer, else why not, and all outputs of
 * a row that failed are NaN, as is a number that an answer does not have. An input that is NaN or infinite is FLOODBAR_OUT_OF_RANGE,
 * of its row alone. The answers are those of floodbar_calculate(), bit for bit; floodbar_explain() words what is wrong with a row.
 *
 * The call fails as a whole, and has written nothing, with FLOODBAR_NULL_POINTER where `prepared` or a column is NULL, with
 * FLOODBAR_IMPOSSIBLE for another number of columns than was prepared, and with FLOODBAR_TOO_LONG for more rows than memory holds.
 * Without rows no column is looked at, and each may be NULL.
 *
 * Inputs are never written. The prepared calculation stays as it is, and what the rows need belongs to the call: many threads may run
 * one at once, each into its own columns. Nothing is allocated for a row of a closed formula that has an answer; what a call
 * allocates once pays from a few rows on.
 *
 * @param prepared the prepared calculation
 * @param rows how many numbers each column has
 * @param inputs the columns of the inputs; they are read only
 * @param inputs_count how many they are
 * @param outputs the columns that are written; none overlaps with another one, with an input or with the three below
 * @param outputs_count how many they are
 * @param row_status a status for each row; NULL where it is not wanted
 * @param row_cautions how many cautions each row met; NULL where it is not wanted
 * @param row_limits how many limits each row met; NULL where it is not wanted
 *
 * # Safety
 * `prepared` is NULL or came from floodbar_prepare() and is not freed during the call. `inputs` and `outputs` are NULL or point to so
 * many pointers, each of them NULL or to `rows` doubles, and the last three are NULL or point to `rows` entries, all aligned as C
 * aligns them; no other thread writes what is read, nor uses what is written, during the call.
 */
floodbar_status floodbar_run(const struct floodbar_prepared *prepared,
                             size_t rows,
                             const double *const *inputs,
                             size_t inputs_count,
                             double *const *outputs,
                             size_t outputs_count,
                             floodbar_status *row_status,
                             uint32_t *row_cautions,
                             uint32_t *row_limits);

/**
 * Answers one row in full: the answer of floodbar_calculate() to the request with these numbers in it, or its error.
 *
 * Status, ownership of the text, and threads, as in floodbar_calculate().
 *
 * @param prepared the prepared calculation
 * @param input_row a number for each input, in the order in which they were prepared
 * @param inputs_count how many they are
 * @param answer_json where the text goes
 *
 * # Safety
 * `prepared` is NULL or came from floodbar_prepare() and is not freed during the call; `input_row` is NULL or points to so many
 * doubles that no one changes during the call; `answer_json` is as in floodbar_calculate().
 */
floodbar_status floodbar_explain(const struct floodbar_prepared *prepared,
                                 const double *input_row,
                                 size_t inputs_count,
                                 char **answer_json);

/**
 * Frees a prepared calculation, from any thread. NULL is fine.
 *
 * # Safety
 * `prepared` is NULL, or came from floodbar_prepare(), has not been freed before, and no call on another thread uses it.
 */
void floodbar_prepared_free(struct floodbar_prepared *prepared);

/**
 * The name of a status: "success", or the "code" of the error, such as "bad_quantity"; "unknown_status" for a number
 * that this version does not know. Never NULL; valid for as long as the library is loaded; not to be freed.
 */
const char *floodbar_status_text(floodbar_status status);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* FLOODBAR_H */
