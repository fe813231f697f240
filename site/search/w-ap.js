bayleaf.words("ap",{"apart":"0:4","apply":"0:a;2:a"});
