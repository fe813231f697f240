bayleaf.words("de",{"dead":"0:4;2:t","deburr":"0:a;2:a","deburring":"0:0,a,f;2:0,a,i","depth":"0:0,9;2:0,9;3:0,5"});
