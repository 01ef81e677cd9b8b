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
 * Frees a text that floodbar_calculate(), floodbar_artwork_measure() or floodbar_catalogue() gave, from any thread. NULL is fine.
 *
 * Not for texts from floodbar_status_text() or floodbar_version(): those are never freed.
 *
 * # Safety
 * `text` is NULL, or came from this library, still has the length it came with, and has not been freed before.
 */
void floodbar_free(char *text);

/**
 * The name of a status: "success", or the "code" of the error, such as "bad_quantity"; "unknown_status" for a number
 * that this version does not know. Never NULL; valid for as long as the library is loaded; not to be freed.
 */
const char *floodbar_status_text(floodbar_status status);

/**
 * The version of the library, such as "1.2.3". Valid for as long as the library is loaded; not to be freed.
 */
const char *floodbar_version(void);

/**
 * The number of the binary interface. It grows when a program compiled with an older header would no longer work.
 */
uint32_t floodbar_abi(void);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* FLOODBAR_H */
