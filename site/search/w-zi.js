bayleaf.words("zi",{"zinc":"0:a;2:a"});
