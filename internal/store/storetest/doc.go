// Package storetest is what a store of books must do, whichever database lies under it. A store's own
// test calls [Run].
package storetest
