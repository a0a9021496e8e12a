// A second opinion by another implementation: Debian's golang-golang-x-mod-dev (sumdb/note and sumdb/tlog). Reads questions, a line
// each with blanks between base64 fields, and answers yes or no.
//
//	GO111MODULE=off GOPATH=/usr/share/gocode go run check_log.go <questions
//
//	leaf DATA HASH                         is HASH the leaf hash of DATA?
//	note NOTE VKEY TEXT                    does VKEY sign NOTE, and is TEXT what it says?
//	root SIZE HASH                         is HASH the root over the leaves asked before, up to SIZE?
//	in PROOF SIZE ROOT INDEX HASH          does PROOF (hashes joined) lead from the leaf to the root?
//	grown PROOF SIZE ROOT OLDSIZE OLDROOT  does the larger tree extend the smaller one?
package main

import (
	"bufio"
	"encoding/base64"
	"fmt"
	"os"
	"strconv"
	"strings"

	"golang.org/x/mod/sumdb/note"
	"golang.org/x/mod/sumdb/tlog"
)

func bytes(text string) []byte {
	data, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		panic(err)
	}
	return data
}

func hash(text string) (h tlog.Hash) {
	copy(h[:], bytes(text))
	return h
}

func number(text string) int64 {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		panic(err)
	}
	return n
}

func path(text string) (hashes []tlog.Hash) {
	for data := bytes(text); len(data) > 0; data = data[tlog.HashSize:] {
		var h tlog.Hash
		copy(h[:], data)
		hashes = append(hashes, h)
	}
	return hashes
}

var stored []tlog.Hash
var leaves int64

func read(indexes []int64) ([]tlog.Hash, error) {
	var found []tlog.Hash
	for _, i := range indexes {
		found = append(found, stored[i])
	}
	return found, nil
}

func answer(q []string) bool {
	switch q[0] {
	case "leaf":
		data := bytes(q[1])
		more, err := tlog.StoredHashes(leaves, data, tlog.HashReaderFunc(read))
		if err != nil {
			panic(err)
		}
		stored = append(stored, more...)
		leaves++
		return tlog.RecordHash(data) == hash(q[2])
	case "note":
		verifier, err := note.NewVerifier(q[2])
		if err != nil {
			return false
		}
		opened, err := note.Open(bytes(q[1]), note.VerifierList(verifier))
		return err == nil && opened.Text == string(bytes(q[3]))
	case "root":
		root, err := tlog.TreeHash(number(q[1]), tlog.HashReaderFunc(read))
		return err == nil && root == hash(q[2])
	case "in":
		return tlog.CheckRecord(path(q[1]), number(q[2]), hash(q[3]), number(q[4]), hash(q[5])) == nil
	case "grown":
		return tlog.CheckTree(path(q[1]), number(q[2]), hash(q[3]), number(q[4]), hash(q[5])) == nil
	}
	panic("what is " + q[0])
}

func main() {
	in := bufio.NewReaderSize(os.Stdin, 1<<20)
	out := bufio.NewWriter(os.Stdout)
	defer out.Flush()
	for {
		line, err := in.ReadString('\n')
		if err != nil {
			return
		}
		word := "no"
		if answer(strings.Split(strings.TrimSuffix(line, "\n"), " ")) {
			word = "yes"
		}
		fmt.Fprintln(out, word)
	}
}
