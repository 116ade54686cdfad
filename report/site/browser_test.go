package site

func closeBrowsers() {}
